package store

// Who looks after a batch, and who looks after it next.
type (
	// OwnerSet names who is reminded of a batch; Old is who was.
	OwnerSet struct {
		ID  string `json:"id"`
		Old string `json:"old,omitempty"`
		Why string `json:"why,omitempty"` // "hand-over"
	}
	// BackupSet names who is told where the owner does not act.
	BackupSet struct {
		ID  string `json:"id"`
		Old string `json:"old,omitempty"`
	}
	// AwayNoted is a stretch in which a person is not reminded of anything.
	AwayNoted struct {
		ID   string `json:"id"`
		From Milli  `json:"from"`
		To   Milli  `json:"to"` // not included; not after From: the person is back
	}
	// HandOverOffered is a person's batches offered to another, who has to accept them.
	HandOverOffered struct {
		From    string   `json:"from"`
		To      string   `json:"to"`
		Batches []uint64 `json:"batches"`
	}
	// HandOverEnded is what became of an offer to a person.
	HandOverEnded struct {
		To       string `json:"to"`
		Accepted bool   `json:"accepted,omitempty"`
	}
)

func (OwnerSet) kind() string        { return "owner set" }
func (BackupSet) kind() string       { return "backup set" }
func (AwayNoted) kind() string       { return "away noted" }
func (HandOverOffered) kind() string { return "hand-over offered" }
func (HandOverEnded) kind() string   { return "hand-over ended" }

func (o OwnerSet) undoable() bool { return o.Why == "" }
func (BackupSet) undoable() bool  { return true }

// Offer is a hand-over that waits to be accepted.
type Offer struct {
	From    string   `json:"from"`
	By      string   `json:"by"` // who offered it
	At      Milli    `json:"at"`
	Batches []uint64 `json:"batches"`
}

// Away is a stretch of time, To not included.
type Away struct {
	From Milli `json:"from"`
	To   Milli `json:"to"`
}

func (o OwnerSet) apply(b *Batch, e Event) error {
	if o.ID == "" || o.Old != b.Owner {
		return misfit(e, b.State, MisfitPerson)
	}
	b.Owner = o.ID
	b.joined(o.ID)
	return nil
}

func (o BackupSet) apply(b *Batch, e Event) error {
	if o.ID == "" || o.Old != b.Backup {
		return misfit(e, b.State, MisfitPerson)
	}
	b.Backup = o.ID
	return nil
}

func (a AwayNoted) fold(b records, _ *Kitchen, e Event) error {
	p, ok, err := loadPerson(b, e.Kitchen, a.ID)
	if err != nil {
		return err
	}
	if !ok {
		return misfit(e, "", MisfitPerson)
	}
	p.Away = nil
	if a.To > a.From {
		p.Away = &Away{a.From, a.To}
	}
	return save(b, bucketPeople, pair(e.Kitchen, p.ID), p)
}

func (h HandOverOffered) fold(_ records, k *Kitchen, e Event) error {
	if h.From == "" || h.To == "" || len(h.Batches) == 0 {
		return misfit(e, "", MisfitPerson)
	}
	offers := map[string]Offer{h.To: {h.From, e.Person, e.Happened, h.Batches}}
	for to, o := range k.Offers {
		if to != h.To {
			offers[to] = o
		}
	}
	k.Offers = offers
	return nil
}

func (h HandOverEnded) fold(_ records, k *Kitchen, e Event) error {
	if _, ok := k.Offers[h.To]; !ok {
		return misfit(e, "", MisfitPerson)
	}
	delete(k.Offers, h.To)
	return nil
}
