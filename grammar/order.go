package grammar

func (r *reading) batch() (Phrase, int)            { return Phrase{}, 0 }
func (r *reading) order(from int) (Command, error) { return nil, nil }
