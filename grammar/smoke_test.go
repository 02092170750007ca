package grammar
import ("testing";"errors";"os";"strings";"fmt")
func TestSmoke(t *testing.T){
 b,_ := os.ReadFile("/tmp/lines.txt")
 for _, x := range strings.Split(strings.TrimSpace(string(b)),"\n") {
  p,err := Parse(x,Setting{})
  s := fmt.Sprintf("%T %+v",p.Command,p.Command)
  for _, z := range []string{"Value:0 ","Origin:0","Origin:1","{}",":false","Value:0s "} { s=strings.ReplaceAll(s,z,"")}
  t.Logf("%q -> %d %s", x, p.Batch,s)
  var q *Question; var e *Error
  if errors.As(err,&q) { t.Logf("   Q %+v",*q)}
  if errors.As(err,&e) { t.Logf("   E %+v",*e)}
 }
}
