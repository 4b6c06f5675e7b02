//go:build js && wasm

package indexeddb

import "syscall/js"

// callback makes a function for JavaScript. A panic in f is reported and goes
// no further, for it would end the program. f must not wait for anything: the
// page stands still until it returns.
func callback(report func(any), f func(args []js.Value)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		defer func() {
			if r := recover(); r != nil {
				report(r)
			}
		}()
		f(args)
		return nil
	})
}

// tell calls a hook of the app on a goroutine of its own, where it may wait.
func (s *Store) tell(hook func()) {
	if hook == nil {
		return
	}
	go func() {
		defer func() {
			if r := recover(); r != nil {
				s.options.Report(r)
			}
		}()
		hook()
	}()
}
