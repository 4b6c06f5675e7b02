package book

import (
	"context"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/wire"
)

// DevicePrefix begins the keys of settings that belong to this device only, as
// the time of the last backup. They are neither exported nor imported.
const DevicePrefix = "device."

// Setting is one thing the kitchen told of itself: its agents with their
// strengths, its scales, its siphons, a factor it learned.
type Setting struct {
	Key   string
	Rev   int   // from 1, one more with each save
	Saved int64 // Unix time in ms
	Body  []byte
	Rest  []wire.Member // members that a newer program wrote
}

func (s *Setting) device() bool { return strings.HasPrefix(s.Key, DevicePrefix) }

// PutSetting stores a setting. Its Rev is the one it was read with, 0 for a new
// one; if the stored revision is another, ErrConflict, and nothing is written:
// read again and join the two. It returns the setting as stored, once that is
// committed. Settings of the device are written with relaxed durability.
func (b *Book) PutSetting(ctx context.Context, s Setting) (Setting, error) {
	if err := b.prepareSetting(&s); err != nil {
		return s, err
	}
	base := s.Rev
	s.Rev = base + 1
	text, err := encodeSetting(&s)
	if err != nil {
		return s, err
	}
	how := Strict
	if s.device() {
		how = Relaxed
	}
	err = b.port.Write(ctx, how, []Space{Settings}, func(tx Tx) error {
		key := Key{ID: s.Key}
		old, ok, err := tx.Get(Settings, key)
		if err != nil || ok && old == text {
			return err // stored already
		}
		if rev, err := settingRev(Row{key, old}, ok); err != nil || rev != base {
			return &Failure{Op: "save setting " + s.Key, Kind: ErrConflict, Cause: err}
		}
		return tx.Put(Settings, key, text)
	})
	return s, err
}

func settingRev(row Row, there bool) (int, error) {
	if !there {
		return 0, nil
	}
	s, err := decodeSetting(row)
	return s.Rev, err
}

func (b *Book) prepareSetting(s *Setting) error {
	if !validID(s.Key, MaxKey) {
		return note.Refuse("key", CodeBadID, note.Typed("id", wire.Cut(s.Key, MaxKey)))
	}
	if err := checkTime(s.Saved); err != nil {
		return err
	}
	v, text, err := canonical(s.Body)
	if err != nil {
		return err
	}
	s.Body = text
	if b.checks.Setting != nil {
		if err = b.checks.Setting(s.Key, v); err != nil {
			return refusedBody(err)
		}
	}
	return nil
}

// Setting reads one setting; ErrMissing if there is none of that key.
func (b *Book) Setting(ctx context.Context, key string) (s Setting, err error) {
	err = b.port.Read(ctx, []Space{Settings}, func(tx Tx) error {
		s, err = readOne(tx, Settings, Key{ID: key}, decodeSetting)
		return err
	})
	return s, err
}

// Settings reads all settings in the order of their keys, and which of them
// cannot be read.
func (b *Book) Settings(ctx context.Context) (list []Setting, bad []Damage, err error) {
	rows, err := b.port.Snapshot(ctx, Settings)
	if err != nil {
		return nil, nil, err
	}
	list, bad = decodeAll(Settings, rows[0], decodeSetting)
	return list, bad, nil
}

// RemoveSetting removes a setting. To take that back, put it again with Rev 0.
func (b *Book) RemoveSetting(ctx context.Context, key string) error {
	return b.port.Write(ctx, Strict, []Space{Settings}, func(tx Tx) error {
		return tx.Delete(Settings, Key{ID: key})
	})
}

// encodeSetting is the stored text of a setting:
//
//	{"form":1,"key":"shelf.agents","rev":4,"saved":…,"body":…, …rest}
func encodeSetting(s *Setting) (string, error) {
	return encodeRecord(maxRecord, func(w *wire.Writer) error { return writeSetting(w, s) })
}

func writeSetting(w *wire.Writer, s *Setting) error {
	w.Name("key").Text(s.Key)
	w.Name("rev").Int(int64(s.Rev))
	w.Name("saved").Int(s.Saved)
	w.Name("body").Canonical(s.Body)
	w.Members(s.Rest)
	return w.Err()
}

func takeSetting(f *wire.Fields, check func(string, wire.Value) error) (Setting, error) {
	s := Setting{
		Key:   takeID(f, "key"),
		Rev:   int(f.Int("rev", 1, MaxRev)),
		Saved: f.Int("saved", 0, MaxUnixMs),
	}
	s.Body = takeChecked(f, "body", func(v wire.Value) error {
		if check == nil {
			return nil
		}
		return check(s.Key, v)
	})
	s.Rest = wire.Clone(f.Rest())
	return s, f.Err()
}

func decodeSetting(row Row) (Setting, error) {
	return decodeRecord(Settings, row,
		func(f *wire.Fields) (Setting, error) { return takeSetting(f, nil) },
		func(s *Setting) Key { return Key{ID: s.Key} })
}
