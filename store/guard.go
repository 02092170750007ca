package store

import "runtime/debug"

// guarded turns a panic into a *PanicError; a fault of the mapped file (a page that the disk
// can't give) is one too.
func guarded(fn func() error) (err error) {
	defer caught(&err)()
	return fn()
}

func caught(err *error) func() {
	old := debug.SetPanicOnFault(true)
	return func() {
		debug.SetPanicOnFault(old)
		if v := recover(); v != nil {
			*err = &PanicError{Value: v, Stack: debug.Stack()}
		}
	}
}
