package formula

import "tremblant/internal/wire"

// Made is a batch that was made for a trial: the formula as it was made, and
// the one that it was a try of, which says what was aimed at. In a cup of a
// ladder the two differ in one dose.
type Made struct {
	Made Formula
	Aim  Formula
}

// Encode writes the stored form of a batch.
func (m Made) Encode() ([]byte, error) {
	made, err := m.Made.Encode()
	if err != nil {
		return nil, err
	}
	aim, err := m.Aim.Encode()
	if err != nil {
		return nil, err
	}
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("made").Canonical(made)
	w.Name("aim").Canonical(aim)
	w.EndObject()
	return w.Bytes()
}

// DecodeMade reads the stored form of a batch. Errors are as for Decode.
func DecodeMade(v wire.Value) (m Made, err error) {
	f := v.Fields()
	made, aim := f.Value("made"), f.Value("aim")
	if err = f.Err(); err != nil {
		return m, err
	}
	if m.Made, err = DecodeValue(made); err != nil {
		return m, err
	}
	m.Aim, err = DecodeValue(aim)
	return m, err
}

// MaxTried is how many judged batches the lab is told of at most.
const MaxTried = 40

// Tried is a batch whose firmness was judged.
type Tried struct {
	Batch    []byte // a [Made] in its stored form
	Firmness int    // against the aim: -2 far too soft, -1 too soft, 0 right, 1 too firm, 2 far too firm
}

func encodeTried(w *wire.Writer, list []Tried) {
	if len(list) == 0 {
		return
	}
	w.Name("tried").BeginArray()
	for _, t := range list {
		w.BeginObject()
		w.Name("firmness").Int(int64(t.Firmness))
		w.Name("batch").Canonical(t.Batch)
		w.EndObject()
	}
	w.EndArray()
}

func decodeTried(m *wire.Fields) (list []Tried) {
	for _, v := range m.ItemsOr("tried", MaxTried) {
		f := m.Into(v)
		t := Tried{Firmness: int(f.Int("firmness", -2, 2))}
		batch, err := wire.Compact(f.Value("batch"))
		if m.Err() != nil {
			return nil
		}
		if err != nil {
			m.Fail("tried", err)
			return nil
		}
		t.Batch = batch
		list = append(list, t)
	}
	return list
}
