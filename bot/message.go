package bot

import (
	"strings"
	"time"
)

// Account is one user of one platform. Ids are opaque: they are compared, never read.
type Account struct {
	Platform string `json:"platform"` // "terminal", "slack", "discord"
	Team     string `json:"team,omitempty"`
	User     string `json:"user"`
	Group    bool   `json:"group,omitempty"` // it is a group of the platform, and User its id; only ever mentioned
}

// String is the account as records keep it.
func (a Account) String() string { return a.Platform + "/" + a.Team + "/" + a.User }

// Place is where something is said or posted. Thread is the id of the thread's first
// message; "" is the channel itself.
type Place struct {
	Platform string `json:"platform"`
	Team     string `json:"team,omitempty"`
	Channel  string `json:"channel"`
	Thread   string `json:"thread,omitempty"`
}

// String is the conversation as records keep it. Conversations are taken one message at a
// time, in order.
func (p Place) String() string {
	return strings.Join([]string{p.Platform, p.Team, p.Channel, p.Thread}, "/")
}

// channel is the place without its thread.
func (p Place) channel() Place {
	p.Thread = ""
	return p
}

// What says what a person did with a message.
type What string

// What happens to messages.
const (
	Said    What = "said"
	Edited  What = "edited"
	Deleted What = "deleted"
	Pressed What = "pressed" // a button
	Filled  What = "filled"  // a form that a button opened
)

// Press is a button on a card.
type Press struct {
	Action   Action `json:"action"`
	Batch    uint64 `json:"batch"`
	Revision uint32 `json:"revision"`      // of the dose card that the button stood on; of a DoPick, which choice, from 1
	Ask      string `json:"ask,omitempty"` // of a DoPick, the question: letters and digits, 16 at most
}

// Message is one platform event, as an adapter hands it in.
type Message struct {
	ID      string  `json:"id"`             // of the event: platform id and edit stamp or press id; twice the same is taken once
	Said    string  `json:"said,omitempty"` // of the message itself, where What is Edited or Deleted: the ID that it had when it was said
	Place   Place   `json:"place"`          // for a message that begins a thread, Thread is its own id
	Top     bool    `json:"top,omitempty"`  // said in the channel itself, not in a thread
	Account Account `json:"account"`
	Name    string  `json:"name"` // to show; never to know somebody by
	What    What    `json:"what"`
	Text    string  `json:"text,omitempty"`
	Press   *Press  `json:"press,omitempty"`
	// Fields are what was filled into the form that Press opened, by the names of its fields.
	Fields map[string]string `json:"fields,omitempty"`
	// Mentions are the accounts that the text names, by what stands behind the at sign.
	Mentions map[string]Account `json:"mentions,omitempty"`
	// Code is a one-time code that was typed: Receive takes it out of the text.
	Code     *typedCode `json:"code,omitempty"`
	Language string     `json:"language,omitempty"` // the platform's locale of the account, "" where it tells none
	Zone     string     `json:"zone,omitempty"`     // the platform's time zone of the account, an IANA name
	// Groups are the ids of the platform's groups or roles that the account is in, where the
	// platform told; it may have told that there are none.
	Groups     []string   `json:"groups,omitempty"`
	GroupsTold bool       `json:"groups_told,omitempty"`
	Direct     bool       `json:"direct,omitempty"`
	Mentioned  bool       `json:"mentioned,omitempty"` // the bot is named
	Files      []Attached `json:"files,omitempty"`
	Guest      bool       `json:"guest,omitempty"`
	Again      bool       `json:"again,omitempty"` // read again after a gap; it may have been taken before
	Via        string     `json:"via,omitempty"`   // "at the terminal of LOGIN"
	At         time.Time  `json:"at"`              // the platform's time
	Received   time.Time  `json:"received"`        // filled in by Receive
}

// Reply is what Receive may answer at once: a reply of the moment, which carries no record
// and may be lost. The zero Reply is silence.
type Reply struct {
	Text string // a private hint
	Form *Form  // to be opened for whoever pressed
	// Wrong are the fields of a form that can't be taken as they were filled in, and why.
	// Nothing of the form is kept then.
	Wrong map[string]string
}

// Form asks one person for a few values at once. What is filled in comes back as a message
// that is Filled.
type Form struct {
	Press  Press    // the button that opened it
	Title  string   // 24 characters at most
	Lines  []string // what stands above the fields
	Fields []Field
	Send   string // the label of the button that sends it
}

// Field is one line of a form.
type Field struct {
	Name     string
	Label    string
	Hint     string // how it is written; "" none
	Value    string // what stands in it at first
	Optional bool
}
