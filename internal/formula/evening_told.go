package formula

import "tremblant/internal/wire"

// DecodeTonight reads the message of [Tonight.Encode]. A text that is none is an
// error; a formula in it is read later, by whoever needs it.
func DecodeTonight(text string) (Tonight, error) {
	v, err := wire.Read(text, wire.Limits{Bytes: MaxEvening, Depth: 24, Members: 20_000, Values: 100_000})
	if err != nil {
		return Tonight{}, err
	}
	m := v.Fields()
	var t Tonight
	for _, v := range m.Items("records", MaxDishes) {
		r := m.Into(v)
		id, body := r.Text("id", idBytes), r.Value("body")
		if m.Err() != nil {
			break
		}
		compact, err := wire.Compact(body)
		if err != nil {
			return Tonight{}, err
		}
		t.Records = append(t.Records, Record{id, compact})
	}
	evening := m.Value("evening")
	if err := m.Err(); err != nil {
		return Tonight{}, err
	}
	t.Evening, err = DecodeEvening(evening)
	return t, err
}
