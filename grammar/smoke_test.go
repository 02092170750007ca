package grammar
import ("testing";"errors")
func TestSmoke(t *testing.T){
 for _, x := range []string{"3.2 kg belly, dry rub, 7 days","3.2 kg belly dry rub 7 days","3.2 kg bxxlly, dry rub, 7 days","3.2 kg belly, dry rub, 7 dyas","4.5 lb brisket, brine 1 gal, 10 days, 2% salt","6 kg ham, inject 10%, cover 4 l","10 kg salami, ground, no 2, 30 days","3 kg belly came in today","2.350 kg belly, dry rub","9#1 belly, dry rub","3 kg belly, pink salt","3 kg belly, nitritte salt","3 kg belly, 3 kg loin","0 kg belly","3 kg belly, no 1 0.25%","3 kg belly, 0.25% no 1 6.25%","3 kg belly, 2 tsp no 1","3 kg mince, ground","3 kg belly, saltpetre", "3 kg belly, 8 g no 1"}{
  p,err := Parse(x,Setting{})
  t.Logf("%q -> %+v", x, p.Command)
  var q *Question; var e *Error
  if errors.As(err,&q) { t.Logf("   Q %+v",*q)}
  if errors.As(err,&e) { t.Logf("   E %+v",*e)}
 }
}
func BenchmarkParse(b *testing.B){
	b.ReportAllocs()
 for b.Loop() { Parse("3.2 kg belly, dry rub, 7 days",Setting{}) }
}
