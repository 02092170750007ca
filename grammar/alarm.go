package grammar

func words(text string) []piece                     { p, _ := cut(text); return p }
func poisoned(p []piece) bool                       { return false }
func (r *reading) mishap(batch uint64) *Mishap      { return nil }
func (r *reading) spoons() *Question                { return nil }
func (r *reading) notYet(from int) (Command, error) { return nil, nil }
