package book

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The form that is written now must have its samples among the released ones,
// and must come out of a round trip byte for byte.
func TestTheCurrentFormIsAmongTheSamples(t *testing.T) {
	for kind, roundTrip := range map[string]func(text string) (string, error){
		"head": func(text string) (string, error) {
			h, err := decodeHead(Row{Key{ID: sampleID}, text})
			require.NoError(t, err)
			return encodeHead(&h)
		},
		"version": func(text string) (string, error) {
			e, err := decodeVersion(Row{Key{ID: sampleID, Rev: 2}, text})
			require.NoError(t, err)
			return encodeVersion(&e)
		},
		"trial": func(text string) (string, error) {
			x, err := decodeTrial(Row{Key{ID: sampleID, Sub: "t-1"}, text})
			require.NoError(t, err)
			return encodeTrial(&x)
		},
		"setting": func(text string) (string, error) {
			s, err := decodeSetting(Row{Key{ID: "shelf.scale"}, text})
			require.NoError(t, err)
			return encodeSetting(&s)
		},
		"photo": func(text string) (string, error) {
			p, err := decodePhoto(Row{Key{ID: sampleID}, text})
			require.NoError(t, err)
			return encodePhoto(&p)
		},
	} {
		text := sample(t, kind)
		again, err := roundTrip(text)
		require.NoError(t, err)
		assert.Equal(t, text, again, kind)
	}
}

// A record cut short anywhere, as by a write that was half done, is reported
// as damaged and never taken for another record.
func TestACutRecordIsDamaged(t *testing.T) {
	text := sample(t, "version")
	for n := range text {
		_, err := decodeVersion(Row{Key{ID: sampleID, Rev: 2}, text[:n]})
		require.ErrorIs(t, err, ErrDamaged)
	}
	_, err := decodeVersion(Row{Key{ID: sampleID, Rev: 3}, text})
	assert.ErrorIs(t, err, ErrDamaged, "under another key")
}

func FuzzRecord(f *testing.F) {
	for _, kind := range []string{"head", "version", "trial", "setting", "photo"} {
		f.Add(sample(f, kind))
	}
	f.Fuzz(func(t *testing.T, text string) {
		if h, err := decodeHead(Row{Key{ID: sampleID}, text}); err == nil {
			again, err := encodeHead(&h)
			require.NoError(t, err)
			back, err := decodeHead(Row{Key{ID: sampleID}, again})
			require.NoError(t, err)
			require.Equal(t, h, back)
		}
		if e, err := decodeVersion(Row{Key{ID: sampleID, Rev: 2}, text}); err == nil {
			again, err := encodeVersion(&e)
			require.NoError(t, err)
			back, err := decodeVersion(Row{Key{ID: sampleID, Rev: 2}, again})
			require.NoError(t, err)
			require.True(t, e.same(&back))
		}
		for _, decode := range []func() error{
			func() error { _, err := decodeTrial(Row{Key{ID: sampleID, Sub: "t-1"}, text}); return err },
			func() error { _, err := decodeSetting(Row{Key{ID: "shelf.scale"}, text}); return err },
			func() error { _, err := decodePhoto(Row{Key{ID: sampleID}, text}); return err },
		} {
			if err := decode(); err != nil {
				var f *Failure
				require.ErrorAs(t, err, &f)
			}
		}
	})
}

// The fast way of reading a head must say what the thorough one says, of
// whatever text.
func FuzzScanHead(f *testing.F) {
	f.Add(sample(f, "head"))
	for _, h := range []Head{
		{ID: sampleID, Rev: 1, Name: "A", Reading: Reading{Words: "a"}},
		{ID: sampleID, Rev: 1, Name: "A \"quoted\"", Tags: []string{"x", "y"}, Saved: 5, Made: 4, From: Origin{"b", 2}, Conflict: "c", Binned: 9},
	} {
		text, err := encodeHead(&h)
		require.NoError(f, err)
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		row := Row{Key{ID: sampleID}, text}
		want, wantErr := decodeHead(row)
		var got Head
		err := new(scanner).readHead(row, &got)
		require.Equal(t, wantErr == nil, err == nil, "%v %v", wantErr, err)
		require.Equal(t, want, got)
	})
}

// So must the fast way of reading a revision, but for white space in a body,
// which nobody writes there.
func FuzzScanVersion(f *testing.F) {
	f.Add(sample(f, "version"))
	f.Add(`{"form":1,"id":"` + sampleID + `","rev":2,"name":"A","made":1,"saved":2,"body":{"a":[1.50,"x\n",{}]}}`)
	f.Add(`{"form":1,"id":"` + sampleID + `","rev":2,"name":"A","made":1,"saved":2,"body":{"a":1,"a":2}}`)
	f.Fuzz(func(t *testing.T, text string) {
		row := Row{Key{ID: sampleID, Rev: 2}, text}
		want, wantErr := decodeVersion(row)
		got, err := new(scanner).readVersion(row)
		require.Equal(t, wantErr == nil, err == nil, "%v %v", wantErr, err)
		if err == nil {
			_, got.Body, err = canonical(got.Body)
			require.NoError(t, err)
		}
		require.Equal(t, want, got)
	})
}

// What is written goes the fast way, or it would be of no use.
func TestScanHeadTakesWhatIsWritten(t *testing.T) {
	var s scanner
	var h Head
	s.begin(sample(t, "head"))
	s.head(&h)
	assert.True(t, s.ok)
	assert.Empty(t, s.rest)
	assert.Equal(t, sampleID, h.ID)
}
