package store

import (
	"errors"
	"fmt"
)

// Sentinels; compare with errors.Is.
var (
	// ErrStopped: the store was closed.
	ErrStopped = errors.New("store: closed")
	// ErrBroken: a commit failed, so what is on the disk is not known. The store takes no
	// more; close it, open it anew and run Verify. It wraps the cause.
	ErrBroken = errors.New("store: a commit failed")
	// ErrFull: the file may not grow any more. Nothing of this closure was kept.
	ErrFull = errors.New("store: file at its greatest size")
	// ErrReadOnly: a change inside View, or in a store opened read-only.
	ErrReadOnly = errors.New("store: read-only")
	// ErrNested: Update or Close inside a closure of Update.
	ErrNested = errors.New("store: called inside an update")
	// ErrClosed: the inbox entry was never received, or is closed already.
	ErrClosed = errors.New("store: no open inbox entry of that id")
	// ErrStale: a post older than one of its key that waits or was sent.
	ErrStale = errors.New("store: older than the newest revision of that post")
	// ErrKey: a text that a key needs is empty or over 1,024 bytes.
	ErrKey = errors.New("store: unfit for a key")
	// ErrEvent: an event without kitchen or body, or with a body of an unknown type.
	ErrEvent = errors.New("store: not an event")
	// ErrCursor: Query.After is not a cursor that Batches gave.
	ErrCursor = errors.New("store: not a cursor")
)

// LockedError: another process, or another Store of this one, holds the file.
type LockedError struct {
	Path string
	PID  int // of the holder; 0: not known
}

func (e *LockedError) Error() string {
	if e.PID == 0 {
		return fmt.Sprintf("store: %s is in use", e.Path)
	}
	return fmt.Sprintf("store: %s is in use by process %d", e.Path, e.PID)
}

// SchemaError: the file was written by a newer program, or by an older one and is opened
// read-only: opening it for writing once brings it up to date.
type SchemaError struct {
	Path       string
	Got, Known uint32 // schema number of the file, newest that this program knows
}

func (e *SchemaError) Error() string {
	if e.Got < e.Known {
		return fmt.Sprintf("store: %s has schema %d, older than %d: open it for writing once", e.Path, e.Got, e.Known)
	}
	return fmt.Sprintf("store: %s has schema %d, newer than %d", e.Path, e.Got, e.Known)
}

// CorruptError: the file is not a store, or is damaged.
type CorruptError struct {
	Path string
	Err  error
}

func (e *CorruptError) Error() string { return fmt.Sprintf("store: %s is damaged: %v", e.Path, e.Err) }
func (e *CorruptError) Unwrap() error { return e.Err }

// PanicError: a closure panicked. Nothing that it did was kept.
type PanicError struct {
	Value any
	Stack []byte
}

func (e *PanicError) Error() string { return fmt.Sprintf("store: closure panicked: %v", e.Value) }

// Unwrap gives the panic's value, where that is an error.
func (e *PanicError) Unwrap() error {
	err, _ := e.Value.(error)
	return err
}

// FoldError: an event that does not fit the records. Nothing was appended.
type FoldError struct {
	Kind    string // of event
	Kitchen string
	Batch   uint64 // 0: not of a batch
	State   State  // of the batch; "": there is none
	Why     Misfit
}

func (e *FoldError) Error() string {
	return fmt.Sprintf("store: %q does not fit batch %d of %q in state %q: %s", e.Kind, e.Batch, e.Kitchen, e.State, e.Why)
}

// Misfit is why an event does not fit.
type Misfit string

// The ways in which an event may not fit.
const (
	MisfitKitchen  Misfit = "kitchen"  // unknown, or opened already
	MisfitPerson   Misfit = "person"   // unknown, missing, or known already by that account
	MisfitAccount  Misfit = "account"  // belongs to another person
	MisfitBatch    Misfit = "batch"    // unknown, missing, or not the next number
	MisfitState    Misfit = "state"    // not one in which this can happen, or can't be reached by it
	MisfitRevision Misfit = "revision" // not the newest; for a new one, not the next
	MisfitCard     Misfit = "card"     // weight, cure or jar differ from the card's
	MisfitOwn      Misfit = "own"      // approved by whoever asked, and not marked as own
	MisfitStep     Misfit = "step"     // no such step, done or reminded already, of another kind
	MisfitUndone   Misfit = "undone"   // of another, not of a kind that can be undone, undone already, or something rests on it
	MisfitRecipe   Misfit = "recipe"   // no such recipe or version, not the next one, approved or withdrawn already
	MisfitJar      Misfit = "jar"      // unknown, of another spelling, or not the filling that is in it
	MisfitScale    Misfit = "scale"    // a check that names no scale or no weight
	MisfitHold     Misfit = "hold"     // held, nothing to release, or not by that number
	MisfitPlace    Misfit = "place"    // unknown, known already, or not where it is
	// MisfitCorrected: no such entry, not as it says, of no kind that can be put right, or something rests on it.
	MisfitCorrected Misfit = "corrected"
	MisfitReading   Misfit = "reading" // nothing that can be measured, or of nothing
)
