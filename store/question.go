package store

// question is what a person was asked in a conversation. It is not folded from events.
type question struct {
	Question []byte `json:"question"`
}

// OpenQuestion gives the question that is open in a conversation for one person, or for
// anybody where person is ""; false: none.
func (tx *Tx) OpenQuestion(conversation, person string) ([]byte, bool, error) {
	q, ok, err := load[question](tx, bucketQuestions, pair(conversation, person))
	return q.Question, ok, err
}

// AskQuestion opens a question in place of any that was open; nil closes it.
func (tx *Tx) AskQuestion(conversation, person string, q []byte) error {
	if err := texts(conversation); err != nil {
		return err
	}
	k := pair(conversation, person)
	if q == nil {
		if tx.get(bucketQuestions, k) == nil {
			return nil
		}
		return tx.del(bucketQuestions, k)
	}
	return save(tx, bucketQuestions, k, question{q})
}
