package store

import (
	"encoding/json"
	"fmt"
)

// The names of the kinds of event, as they are stored: never renamed.
func (KitchenOpened) kind() string   { return "kitchen opened" }
func (Setting) kind() string         { return "setting" }
func (PersonJoined) kind() string    { return "person joined" }
func (RoleGiven) kind() string       { return "role given" }
func (LanguageChosen) kind() string  { return "language chosen" }
func (Asked) kind() string           { return "asked" }
func (Revised) kind() string         { return "revised" }
func (WeightCorrected) kind() string { return "weight corrected" }
func (Approved) kind() string        { return "approved" }
func (Declined) kind() string        { return "declined" }
func (Lapsed) kind() string          { return "lapsed" }
func (Started) kind() string         { return "started" }
func (StepDone) kind() string        { return "step done" }
func (StepMoved) kind() string       { return "step moved" }
func (Held) kind() string            { return "held" }
func (Released) kind() string        { return "released" }
func (Discarded) kind() string       { return "discarded" }
func (Finished) kind() string        { return "finished" }
func (Undone) kind() string          { return "undone" }
func (RecipeWritten) kind() string   { return "recipe written" }
func (RecipeApproved) kind() string  { return "recipe approved" }
func (RecipeWithdrawn) kind() string { return "recipe withdrawn" }
func (ApprovalVoided) kind() string  { return "approval voided" }
func (JarFilled) kind() string       { return "jar filled" }
func (JarLabelled) kind() string     { return "jar labelled" }
func (JarPhotographed) kind() string { return "jar photographed" }
func (JarWeighed) kind() string      { return "jar weighed" }
func (JarMarked) kind() string       { return "jar marked" }
func (Weighed) kind() string         { return "weighed" }
func (Checked) kind() string         { return "checked" }
func (ScaleChecked) kind() string    { return "scale checked" }

// Kind is the stored name of what happened: "asked", "step done", …
func (e Event) Kind() string {
	if e.Body == nil {
		return ""
	}
	return e.Body.kind()
}

// kinds read the body of each kind of event.
var kinds = map[string]func(data []byte) (Body, error){
	KitchenOpened{}.kind():      bodyOf[KitchenOpened],
	Setting{}.kind():            bodyOf[Setting],
	PersonJoined{}.kind():       bodyOf[PersonJoined],
	RoleGiven{}.kind():          bodyOf[RoleGiven],
	LanguageChosen{}.kind():     bodyOf[LanguageChosen],
	Asked{}.kind():              bodyOf[Asked],
	Revised{}.kind():            bodyOf[Revised],
	WeightCorrected{}.kind():    bodyOf[WeightCorrected],
	Approved{}.kind():           bodyOf[Approved],
	Declined{}.kind():           bodyOf[Declined],
	Lapsed{}.kind():             bodyOf[Lapsed],
	Started{}.kind():            bodyOf[Started],
	StepDone{}.kind():           bodyOf[StepDone],
	StepMoved{}.kind():          bodyOf[StepMoved],
	Reminded{}.kind():           bodyOf[Reminded],
	Held{}.kind():               bodyOf[Held],
	Released{}.kind():           bodyOf[Released],
	Incident{}.kind():           bodyOf[Incident],
	PlaceNamed{}.kind():         bodyOf[PlaceNamed],
	PlaceRead{}.kind():          bodyOf[PlaceRead],
	Moved{}.kind():              bodyOf[Moved],
	Measured{}.kind():           bodyOf[Measured],
	MeatLot{}.kind():            bodyOf[MeatLot],
	Served{}.kind():             bodyOf[Served],
	IngredientLabelled{}.kind(): bodyOf[IngredientLabelled],
	IngredientAdded{}.kind():    bodyOf[IngredientAdded],
	Discarded{}.kind():          bodyOf[Discarded],
	Finished{}.kind():           bodyOf[Finished],
	Undone{}.kind():             bodyOf[Undone],
	StepDropped{}.kind():        bodyOf[StepDropped],
	ReminderMoved{}.kind():      bodyOf[ReminderMoved],
	Acknowledged{}.kind():       bodyOf[Acknowledged],
	Escalated{}.kind():          bodyOf[Escalated],
	Paused{}.kind():             bodyOf[Paused],
	Resumed{}.kind():            bodyOf[Resumed],
	OwnerSet{}.kind():           bodyOf[OwnerSet],
	BackupSet{}.kind():          bodyOf[BackupSet],
	AwayNoted{}.kind():          bodyOf[AwayNoted],
	HandOverOffered{}.kind():    bodyOf[HandOverOffered],
	HandOverEnded{}.kind():      bodyOf[HandOverEnded],
	RoleTaken{}.kind():          bodyOf[RoleTaken],
	PersonNamed{}.kind():        bodyOf[PersonNamed],
	PeopleJoined{}.kind():       bodyOf[PeopleJoined],
	TeamJoined{}.kind():         bodyOf[TeamJoined],
	ChannelBound{}.kind():       bodyOf[ChannelBound],
	AlarmSet{}.kind():           bodyOf[AlarmSet],
	KitchenAlarmSet{}.kind():    bodyOf[KitchenAlarmSet],
	RecipeWritten{}.kind():      bodyOf[RecipeWritten],
	RecipeApproved{}.kind():     bodyOf[RecipeApproved],
	RecipeWithdrawn{}.kind():    bodyOf[RecipeWithdrawn],
	ApprovalVoided{}.kind():     bodyOf[ApprovalVoided],
	JarFilled{}.kind():          bodyOf[JarFilled],
	JarLabelled{}.kind():        bodyOf[JarLabelled],
	JarPhotographed{}.kind():    bodyOf[JarPhotographed],
	JarWeighed{}.kind():         bodyOf[JarWeighed],
	JarMarked{}.kind():          bodyOf[JarMarked],
	JarRead{}.kind():            bodyOf[JarRead],
	JarApproved{}.kind():        bodyOf[JarApproved],
	Weighed{}.kind():            bodyOf[Weighed],
	Checked{}.kind():            bodyOf[Checked],
	ScaleChecked{}.kind():       bodyOf[ScaleChecked],
	Thawed{}.kind():             bodyOf[Thawed],
	PlaceCorrected{}.kind():     bodyOf[PlaceCorrected],
	TopUpApproved{}.kind():      bodyOf[TopUpApproved],
	Added{}.kind():              bodyOf[Added],
	Restarted{}.kind():          bodyOf[Restarted],
	NotTaken{}.kind():           bodyOf[NotTaken],
	PlaceNotRead{}.kind():       bodyOf[PlaceNotRead],
}

// body reads the body of one kind of event.
func body(kind string, data []byte) (Body, error) {
	if kind == (Corrected{}).kind() {
		return bodyOf[Corrected](data) // it holds bodies of other kinds itself
	}
	read := kinds[kind]
	if read == nil {
		return nil, fmt.Errorf("%w: event of kind %q", errRecord, kind)
	}
	return read(data)
}

func bodyOf[T Body](data []byte) (Body, error) {
	var b T
	if err := decodePlain(data, &b); err != nil {
		return nil, err
	}
	return b, nil
}

// storedEvent is an event as it is written.
type storedEvent struct {
	Event
	Kind string          `json:"kind"`
	Body json.RawMessage `json:"body"`
}

func encodeEvent(e Event) ([]byte, error) {
	b, err := encodePlain(e.Body)
	if err != nil {
		return nil, err
	}
	data, err := encode(storedEvent{Event: e, Kind: e.Kind(), Body: b})
	return deflated(data), err
}

func decodeEvent(seq uint64, data []byte) (Event, error) {
	var s storedEvent
	if err := decode(data, &s); err != nil {
		return Event{}, err
	}
	b, err := body(s.Kind, s.Body)
	if err != nil {
		return Event{}, err
	}
	s.Event.Seq, s.Event.Body = seq, b
	return s.Event, nil
}
