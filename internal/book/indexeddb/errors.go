//go:build js && wasm

package indexeddb

import (
	"errors"
	"fmt"
	"strings"
	"syscall/js"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

func failure(op string, kind, cause error) error {
	return &book.Failure{Op: op, Kind: kind, Cause: cause}
}

// caught makes an error of what was recovered.
func caught(r any) error {
	if err, ok := r.(error); ok {
		return err
	}
	return fmt.Errorf("%v", r)
}

// domName is the name of the DOMException behind an error, as
// "QuotaExceededError"; "" if there is none. An error delivered by an event is
// an idb.DOMException; one thrown by a call is a js.Error inside a wrapper.
func domName(err error) string {
	var event idb.DOMException
	if errors.As(err, &event) {
		name, _, _ := strings.Cut(event.Error(), ":")
		return name
	}
	var thrown js.Error
	if errors.As(err, &thrown) {
		name, _ := errorName(thrown.Value)
		return name
	}
	return ""
}

// errorName reads name and message of a JavaScript error, whatever was thrown.
func errorName(v js.Value) (name, message string) {
	if v.Type() != js.TypeObject && v.Type() != js.TypeFunction {
		return "", v.String()
	}
	read := func(property string) string {
		if p := v.Get(property); p.Type() == js.TypeString {
			return p.String()
		}
		return ""
	}
	return read("name"), read("message")
}

// classify gives an error of the database its kind. The book's own errors pass
// through as they are.
func classify(op string, err error) error {
	var done *book.Failure
	if err == nil || errors.As(err, &done) {
		return err
	}
	if name := domName(err); name != "" {
		return failure(op, kindOf(name), err)
	}
	var useless *js.ValueError // a handle that is none: a method called on undefined
	if errors.As(err, &useless) {
		return failure(op, book.ErrStale, err)
	}
	return err
}

// kindOf maps the names of DOMExceptions. The connection is taken as lost by
// each name with which a browser was seen to report that; a wrong guess costs
// one more opening.
func kindOf(name string) error {
	switch name {
	case "QuotaExceededError":
		return book.ErrQuota
	case "VersionError":
		return book.ErrNewer
	case "SecurityError", "NotAllowedError":
		return book.ErrUnavailable
	case "NotFoundError", "NotReadableError", "DataError":
		return book.ErrDamaged
	}
	return book.ErrStale // InvalidStateError, AbortError, UnknownError, TransactionInactiveError, TimeoutError
}
