package formula

import "tremblant/internal/wire"

// Again reads the stored form of a formula and writes what this program knows of
// it.
func Again(body []byte) ([]byte, error) {
	f, err := Decode(body)
	if err != nil {
		return nil, err
	}
	f.Extra = nil
	return f.Encode()
}

// HandOn gives now, which is about to be stored in the place of old, with what a
// newer program has written into old, at any depth (see [wire.Graft]). Again
// reads old and writes what this program knows of it; nil when this program always
// writes every member that it knows. Now is returned as it is when old cannot be
// read here, or when the two together would be too much to be read again.
func HandOn(now, old []byte, again func([]byte) ([]byte, error)) []byte {
	known := now
	if again != nil {
		var err error
		if known, err = again(old); err != nil {
			return now
		}
	}
	var v [3]wire.Value
	for i, text := range [...][]byte{now, old, known} {
		var err error
		if v[i], err = wire.Read(text, storedLimits); err != nil {
			return now
		}
	}
	out, err := wire.Compact(wire.Graft(v[0], v[1], v[2]))
	if err == nil {
		_, err = wire.Read(out, storedLimits)
	}
	if err != nil {
		return now
	}
	return out
}
