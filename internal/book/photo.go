package book

import (
	"context"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// Photo is the picture of an entry.
type Photo struct {
	Entry string
	Saved int64  // Unix time in ms
	Data  string // a data URL (RFC 2397) in Base64 of a JPEG, PNG or WebP picture
	Rest  []wire.Member
}

// photoPrefixes are the kinds of picture that are taken. SVG is not: it can
// carry script.
var photoPrefixes = []string{
	"data:image/jpeg;base64,", "data:image/png;base64,", "data:image/webp;base64,",
}

// checkPhoto refuses a data URL that is too big or of another kind, at field
// "photo".
func checkPhoto(data string) error {
	refuse := func() error {
		return note.Refuse("photo", CodePhoto, note.Num("limit", MaxPhoto/1000, unit.One))
	}
	if len(data) > MaxPhoto {
		return refuse()
	}
	for _, p := range photoPrefixes {
		if rest, ok := strings.CutPrefix(data, p); ok && base64(rest) {
			return nil
		}
	}
	return refuse()
}

// base64 reports whether s has the alphabet and length of RFC 4648 section 4.
func base64(s string) bool {
	body := strings.TrimRight(s, "=")
	if len(s)%4 != 0 || body == "" || len(s)-len(body) > 2 {
		return false
	}
	for _, c := range []byte(body) {
		letter := c|0x20 >= 'a' && c|0x20 <= 'z'
		if !letter && (c < '0' || c > '9') && c != '+' && c != '/' {
			return false
		}
	}
	return true
}

// PutPhoto stores the photo of an entry in the place of any before it.
func (b *Book) PutPhoto(ctx context.Context, p Photo) error {
	for _, err := range []error{checkID(p.Entry), checkTime(p.Saved), checkPhoto(p.Data)} {
		if err != nil {
			return err
		}
	}
	text, err := encodePhoto(&p)
	if err != nil {
		return err
	}
	return b.port.Write(ctx, Strict, []Space{Heads, Photos}, func(tx Tx) error {
		if _, ok, err := tx.Get(Heads, Key{ID: p.Entry}); err != nil || !ok {
			return orMissing(err, Heads, p.Entry)
		}
		return tx.Put(Photos, Key{ID: p.Entry}, text)
	})
}

// Photo reads the photo of an entry; ErrMissing if it has none.
func (b *Book) Photo(ctx context.Context, entry string) (p Photo, err error) {
	err = b.port.Read(ctx, []Space{Photos}, func(tx Tx) error {
		p, err = readOne(tx, Photos, Key{ID: entry}, decodePhoto)
		return err
	})
	return p, err
}

// RemovePhoto removes the photo of an entry.
func (b *Book) RemovePhoto(ctx context.Context, entry string) error {
	return b.port.Write(ctx, Strict, []Space{Photos}, func(tx Tx) error {
		return tx.Delete(Photos, Key{ID: entry})
	})
}

// encodePhoto is the stored text of a photo:
//
//	{"form":1,"entry":"…","saved":…,"data":"data:image/jpeg;base64,…", …rest}
func encodePhoto(p *Photo) (string, error) {
	return encodeRecord(recordLimits.Bytes, func(w *wire.Writer) error { return writePhoto(w, p) })
}

func writePhoto(w *wire.Writer, p *Photo) error {
	w.Name("entry").Text(p.Entry)
	w.Name("saved").Int(p.Saved)
	w.Name("data").Text(p.Data)
	w.Members(p.Rest)
	return w.Err()
}

func takePhoto(f *wire.Fields) (Photo, error) {
	p := Photo{Entry: takeID(f, "entry"), Saved: f.Int("saved", 0, MaxUnixMs)}
	p.Data = strings.Clone(f.Text("data", MaxPhoto))
	if f.Err() == nil {
		if err := checkPhoto(p.Data); err != nil {
			f.Fail("data", err)
		}
	}
	p.Rest = wire.Clone(f.Rest())
	return p, f.Err()
}

func decodePhoto(row Row) (Photo, error) {
	return decodeRecord(Photos, row, takePhoto, func(p *Photo) Key { return Key{ID: p.Entry} })
}
