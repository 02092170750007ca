package bot

import (
	"fmt"
	"reflect"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// The roles. Whoever has none is a cook: asks, notes what was done, holds.
const (
	roleChef   = "chef"   // approves, releases, sets the kitchen up
	roleSecond = "second" // approves what a chef asked, nothing else
)

// right is who may type a command. Where no is set it says so to whoever may not, with their
// name, and next says what to do instead.
type right struct {
	who      who
	no, next string
}

// who is whose a command is.
type who uint8

const (
	everybody who = iota
	chefs
	approvers // chefs, and seconds for what a chef asked: mayApprove looks at the batch
)

// ofKitchen is the right to change how the kitchen is set up.
var ofKitchen = right{who: chefs, no: msg("Only a chef changes how the kitchen is set up."), next: msg("A chef can type the same line.")}

// ofSteps is the right to change what a batch still needs.
var ofSteps = right{who: chefs, no: msg("Only a chef changes the steps of a batch."), next: msg("A chef can type the same line.")}

// forOthers is the right to say for somebody else that they are away, or to give their batches.
var forOthers = right{who: chefs, no: msg("Only a chef says that for somebody else."), next: msg("For yourself, type  away until fri  or  give my batches to luis .")}

// rights say who may do what, by the name of the command. All of it stands here: nothing else
// in this package asks for a role before it acts. A command that is not listed is nobody's.
var rights = map[string]right{
	"AddIngredient":   {},
	"Added":           {},
	"Accept":          {},
	"Amend":           {},
	"ApprovalTime":    ofKitchen,
	"Approve":         {who: approvers, no: msg("%s is not a chef here, and can't approve."), next: msg("A chef types  approve .")},
	"ApproveRecipe":   {who: approvers, no: msg("%s is not a chef here, and can't approve."), next: msg("A chef types the same line.")},
	"AskAllergens":    {},
	"Away":            {},
	"BlankSheet":      {},
	"Brine":           {},
	"Chatter":         {},
	"Check":           {},
	"CheckWeight":     ofKitchen,
	"Closed":          ofKitchen,
	"Cold":            {},
	"Cook":            {},
	"Cooling":         {},
	"Correct":         {}, // as anybody notes; what touches the dose a chef decides
	"CorrectWeight":   {},
	"CureChannel":     ofKitchen,
	"CureScale":       ofKitchen,
	"Decline":         {who: chefs, no: msg("%s is not a chef here, and can't decline."), next: msg("Who asked can type  never mind .")},
	"Default":         ofKitchen,
	"Desalt":          {},
	"Did":             {},
	"Digest":          {},
	"Discard":         {who: chefs, no: msg("%s is not a chef here, and can't discard."), next: msg("With a reason it is held:  discard: slimy . A chef decides.")},
	"Dose":            {},
	"DropStep":        ofSteps,
	"Dry":             {},
	"Due":             {},
	"Emergency":       {},
	"Escalate":        ofKitchen,
	"Export":          {},
	"Ferment":         {},
	"Find":            {},
	"Finish":          {},
	"Freeze":          {},
	"GiveRole":        ofKitchen,
	"HandOver":        {},
	"Help":            {},
	"HoldAll":         {},
	"HoldIt":          {},
	"HomeChannel":     ofKitchen,
	"HowLong":         {},
	"JarIs":           {who: chefs, no: msg("Only a chef says what is in a jar: doses are reckoned by it."), next: msg("A chef can type the same line.")},
	"JarApprove":      {who: chefs, no: msg("%s is not a chef here, and can't approve."), next: msg("A chef types the same line.")},
	"JarMarked":       {}, // anybody stops a jar, as anybody holds a batch; rightOf has it put back in use
	"JarPhoto":        {},
	"JarSeen":         {},
	"JarWeighs":       {},
	"Jars":            {},
	"Join":            {}, // rightOf has the teams'
	"KitchenHere":     ofKitchen,
	"LabelIngredient": {},
	"Language":        {}, // one's own; rightOf has the kitchen's
	"ListRecipes":     {},
	"Measured":        {},
	"MeatFrom":        {},
	"MeatScale":       ofKitchen,
	"Mix":             {}, // rightOf has the undiluted ones
	"More":            {},
	"MoveStep":        ofSteps,
	"MyName":          {},
	"NamePlace":       {},
	"NeverMind":       {},
	"NoDefault":       ofKitchen,
	"NotTaken":        {},
	"OnIt":            {},
	"OwnMixes":        ofKitchen,
	"OwnOK":           ofKitchen,
	"Pause":           {},
	"People":          {},
	"Print":           {},
	"PutIn":           {},
	"Quiet":           ofKitchen,
	"ReadPlace":       {},
	"Recall":          {},
	"ReleaseIncident": {who: chefs, no: msg("%s is not a chef here, and can't release."), next: msg("A chef types  release: reason .")},
	"ReleaseIt":       {who: chefs, no: msg("%s is not a chef here, and can't release."), next: msg("A chef types  release: reason .")},
	"Remind":          {},
	"Resume":          {},
	"Rub":             {},
	"ScaleChecked":    {},
	"Scanned":         {},
	"SecondReading":   ofKitchen,
	"Seen":            {},
	"ServedIt":        {},
	"SetBackup":       {}, // of a batch; rightOf has the kitchen's
	"SetDateOrder":    ofKitchen,
	"SetDigest":       ofKitchen,
	"SetOwner":        {},
	"SetRegion":       ofKitchen,
	"ShowBatch":       {},
	"ShowIncident":    {},
	"ShowJar":         {},
	"ShowPlace":       {},
	"ShowRecipe":      {},
	"ShowSteps":       {},
	"Snooze":          {},
	"Soak":            {},
	"Start":           {},
	"Swap":            {},
	"TakeRole":        ofKitchen,
	"Told":            {},
	"Totals":          {},
	"Undo":            {},
	"Units":           ofKitchen,
	"WasOff":          {},
	"WasWarm":         {},
	"WaterActivity":   {},
	"WeighedIn":       {},
	"Weighing":        ofKitchen,
	"WeighsNow":       {},
	"WhereIs":         {},
	"WhichCure":       {},
	"Who":             {},
	"WhoLogged":       {},
	"WithdrawRecipe":  {who: chefs, no: msg("%s is not a chef here, and can't withdraw a recipe."), next: msg("A chef types the same line.")},
	"WriteRecipe":     {},
	"Zone":            ofKitchen,
}

// Undiluted nitrite in a jar is known as such only in the turn: mayMix and mayMake say this too.
var (
	undilutedNo   = msg("Undiluted nitrite is for the chef alone.")
	undilutedNext = msg("Ask for a mix from a labelled jar, like  mix 1 kg house cure 0.6% from no 1 6.25% .")
)

// rightOf is who may type a command; false: it is nobody's.
func rightOf(c grammar.Command) (right, bool) {
	switch c := c.(type) {
	case grammar.Language:
		if c.Kitchen {
			return ofKitchen, true
		}
	case grammar.Join:
		if c.Team {
			return ofKitchen, true
		}
	case grammar.JarIs:
		if len(c.Parts) > 0 {
			return right{}, true // a house cure, which a chef approves; mayMake has those of undiluted nitrite
		}
	case grammar.JarMarked:
		if c.Mark == grammar.JarInUse {
			return right{who: chefs, no: msg("Only a chef puts a jar back in use."), next: msg("A chef can type the same line.")}, true
		}
	case grammar.SetBackup:
		if c.Kitchen {
			return ofKitchen, true
		}
	case grammar.Away:
		if c.Who != "" {
			return forOthers, true
		}
	case grammar.HandOver:
		if c.From != "" {
			return forOthers, true
		}
	case grammar.Mix:
		if undiluted(c) {
			return right{who: chefs, no: undilutedNo, next: undilutedNext}, true
		}
	}
	r, ok := rights[reflect.TypeOf(c).Name()]
	return r, ok
}

// may reports whether a person's role lets them do it; of an approver it knows only that it
// may, until it is seen who asked.
func (r right) may(p store.Person) bool {
	switch r.who {
	case chefs:
		return p.Has(roleChef)
	case approvers:
		return p.Has(roleChef) || p.Has(roleSecond)
	}
	return true
}

// mayNot answers a person whose role doesn't let them type a command; false: it does.
func (t *turn) mayNot(p grammar.Phrase) (bool, error) {
	r, ok := rightOf(p.Command)
	switch {
	case !ok:
		return true, fmt.Errorf("bot: rights don't say who may type %T", p.Command)
	case r.may(t.person):
		return false, nil
	}
	if own, err := t.ownOfCook(p); own || err != nil {
		return true, err
	}
	no := t.theirs.say(r.no)
	if strings.Contains(no, "%s") {
		no = t.theirs.say(r.no, t.person.Name)
	}
	return true, t.note(no, t.theirs.say(r.next))
}

// mayNotApprove answers an approver whose role or account is not enough for this batch: a
// second approves what a chef asked, and an account of one team nothing that came from
// another, where nothing tells that the two are not one person. false: it is enough.
func (t *turn) mayNotApprove(b store.Batch) (bool, error) {
	l := t.theirs
	asker, _, err := t.tx.Person(t.kitchen.ID, b.AskedBy)
	if err != nil {
		return true, err
	}
	if !t.person.Has(roleChef) && !asker.Has(roleChef) {
		return true, t.note(l.say("%s is a second here, and approves only what a chef asked: %s is none.", t.person.Name, asker.Name), l.say("A chef types  approve ."))
	}
	if asker.ID != t.person.ID && mayBeOne(asker, t.person) {
		return true, t.note(l.say("%s asked from another platform, and neither account is joined to the other's: who is who can't be told.", asker.Name),
			l.say("Type  join  to me from your account there, and the code here; or another chef approves."))
	}
	return false, nil
}
