package store

// Code is a one-time code that was given out. Only what it is known again by is kept. Codes are
// not folded from events: they are work in hand.
type Code struct {
	Hash    []byte `json:"hash"`
	For     string `json:"for"`               // the caller's: what it proves
	Kitchen string `json:"kitchen,omitempty"` // of the person
	Person  string `json:"person,omitempty"`  // whom it was given to
	Until   Milli  `json:"until"`
	Wrong   int    `json:"wrong,omitempty"` // tries that were not it
}

// Tries are the wrong codes that one account has typed since an instant.
type Tries struct {
	Since Milli `json:"since"`
	Wrong int   `json:"wrong"`
}

// metaSecret is what codes are derived from.
var metaSecret = key("secret")

// Secret gives the secret of this file, from which codes are derived; nil: it has none yet.
func (tx *Tx) Secret() []byte {
	secret := tx.get(bucketMeta, metaSecret)
	if secret == nil {
		return nil
	}
	return append([]byte(nil), secret...)
}

// KeepSecret gives the file its secret, once: a later one changes nothing.
func (tx *Tx) KeepSecret(secret []byte) error {
	if len(secret) == 0 || tx.get(bucketMeta, metaSecret) != nil {
		return nil
	}
	return tx.put(bucketMeta, metaSecret, secret)
}

// Code gives the code that is kept under a name; false: there is none.
func (tx *Tx) Code(name string) (Code, bool, error) {
	return load[Code](tx, bucketCodes, key("c").text(name))
}

// KeepCode keeps a code under a name, in the place of any that was. Those that are past at now
// are dropped.
func (tx *Tx) KeepCode(name string, c Code, now Milli) error {
	if err := texts(name); err != nil {
		return err
	}
	var past []key
	err := tx.scan(bucketCodes, key("c"), key("c"), func(k key, v []byte) (bool, error) {
		var old Code
		if err := decode(v, &old); err != nil {
			return false, err
		}
		if old.Until <= now {
			past = append(past, key(nil).join(k))
		}
		return true, nil
	})
	for i := 0; err == nil && i < len(past); i++ {
		err = tx.del(bucketCodes, past[i])
	}
	if err != nil {
		return err
	}
	return save(tx, bucketCodes, key("c").text(name), c)
}

// DropCode forgets a code.
func (tx *Tx) DropCode(name string) error {
	k := key("c").text(name)
	if tx.get(bucketCodes, k) == nil {
		return nil
	}
	return tx.del(bucketCodes, k)
}

// CodeTries gives the wrong codes that an account has typed.
func (tx *Tx) CodeTries(account string) (Tries, error) {
	t, _, err := load[Tries](tx, bucketCodes, key("t").text(account))
	return t, err
}

// KeepCodeTries keeps the count of an account.
func (tx *Tx) KeepCodeTries(account string, t Tries) error {
	if err := texts(account); err != nil {
		return err
	}
	return save(tx, bucketCodes, key("t").text(account), t)
}
