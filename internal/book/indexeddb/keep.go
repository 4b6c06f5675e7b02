//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"syscall/js"

	"tremblant/internal/book"
)

// Keeping says how safe the browser keeps the origin's storage.
type Keeping struct {
	Known     bool    // the browser answers such questions
	Persisted bool    // it promises not to throw data away by itself
	Usage     float64 // bytes in use, roughly; 0 if not told
	Quota     float64 // bytes allowed, roughly; 0 if not told
}

// Kept asks the browser how it keeps the data.
func Kept(ctx context.Context) (Keeping, error) {
	manager, ok := storageManager("persisted")
	if !ok {
		return Keeping{}, nil
	}
	v, err := await(ctx, func() js.Value { return manager.Call("persisted") })
	if err != nil {
		return Keeping{}, err
	}
	k := Keeping{Known: true, Persisted: v.Truthy()}
	if manager.Get("estimate").Type() != js.TypeFunction {
		return k, nil
	}
	if v, err = await(ctx, func() js.Value { return manager.Call("estimate") }); err == nil {
		k.Usage, k.Quota = float(v, "usage"), float(v, "quota")
	}
	return k, nil
}

func storageManager(method string) (js.Value, bool) {
	navigator := js.Global().Get("navigator")
	if !navigator.Truthy() {
		return js.Value{}, false
	}
	manager := navigator.Get("storage")
	return manager, manager.Truthy() && manager.Get(method).Type() == js.TypeFunction
}

func float(v js.Value, name string) float64 {
	if v.Type() != js.TypeObject {
		return 0
	}
	if f := v.Get(name); f.Type() == js.TypeNumber {
		return f.Float()
	}
	return 0
}

// await waits for a promise. A promise that is settled after the context ended
// finds its callbacks still there; they are released then.
func await(ctx context.Context, start func() js.Value) (v js.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = failure("ask the browser", book.ErrUnavailable, caught(r))
		}
	}()
	type answer struct {
		v   js.Value
		err error
	}
	settled := make(chan answer, 1)
	var funcs []js.Func
	settle := func(reject bool) js.Func {
		f := callback(func(any) {}, func(args []js.Value) {
			a := answer{v: args[0]}
			if reject {
				name, message := errorName(args[0])
				a.err = failure("ask the browser", book.ErrUnavailable, errors.New(name+": "+message))
			}
			settled <- a
			for _, f := range funcs {
				f.Release()
			}
		})
		funcs = append(funcs, f)
		return f
	}
	start().Call("then", settle(false), settle(true))
	select {
	case a := <-settled:
		return a.v, a.err
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
}
