package wire_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/wire"
)

// The two examples of T. Bray (ed.), The JavaScript Object Notation (JSON) Data
// Interchange Format, RFC 8259, 2017, section 13.
const imageExample = `{
  "Image": {
      "Width":  800,
      "Height": 600,
      "Title":  "View from 15th Floor",
      "Thumbnail": {
          "Url":    "http://www.example.com/image/481989943",
          "Height": 125,
          "Width":  100
      },
      "Animated" : false,
      "IDs": [116, 943, 234, 38793]
    }
}`

func TestReadExampleOfTheStandard(t *testing.T) {
	v, err := wire.Read(imageExample, wire.Limits{})
	require.NoError(t, err)
	image := v.Fields().Object("Image")
	assert.EqualValues(t, 800, image.Int("Width", 0, 10000))
	assert.Equal(t, "View from 15th Floor", image.Text("Title", 100))
	assert.False(t, image.Bool("Animated"))
	thumb := image.Object("Thumbnail")
	assert.EqualValues(t, 125, thumb.Int("Height", 0, 10000))
	ids := image.Items("IDs", 10)
	require.NoError(t, image.Err())
	require.Len(t, ids, 4)
	last, err := ids[3].Int(0, 1e6)
	require.NoError(t, err)
	assert.EqualValues(t, 38793, last)
}

func TestReadStrings(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"plain", `"agar"`, "agar"},
		{"empty", `""`, ""},
		{"every short escape", `"\"\\\/\b\f\n\r\t"`, "\"\\/\b\f\n\r\t"},
		// RFC 8259 section 7: U+1D11E, the G clef, as a pair.
		{"surrogate pair", `"\uD834\uDD1E"`, "\U0001D11E"},
		{"lower-case hex", `"\u00e9"`, "é"},
		{"escaped NUL", `"\u0000"`, "\x00"},
		{"raw beyond ASCII", `"crème 寒天 😀"`, "crème 寒天 😀"},
		{"raw DEL", "\"\x7f\"", "\x7f"},
		{"the replacement character itself", `"�"`, "�"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v, err := wire.Read(c.text, wire.Limits{})
			require.NoError(t, err)
			got, err := v.Text(100)
			require.NoError(t, err)
			assert.Equal(t, c.want, got)
		})
	}
}

func TestReadRefuses(t *testing.T) {
	cases := []struct {
		name, text string
		err        error
		offset     int
		line, col  int
		path       string
	}{
		{"nothing", "", wire.ErrEnd, 0, 1, 1, ""},
		{"white space only", " \n ", wire.ErrEnd, 3, 2, 2, ""},
		{"cut in an object", `{"a":1`, wire.ErrEnd, 6, 1, 7, "/a"},
		{"cut in a word", `{"a":tr`, wire.ErrEnd, 7, 1, 8, "/a"},
		{"cut in a string", `["ab`, wire.ErrEnd, 4, 1, 5, "/0"},
		{"cut in an escape", `"\u00`, wire.ErrEnd, 1, 1, 2, ""},
		{"cut in a number", `[1.`, wire.ErrEnd, 3, 1, 4, "/0"},
		{"misspelled word", `[nul]`, wire.ErrToken, 4, 1, 5, "/0"},
		{"capital word", `True`, wire.ErrToken, 0, 1, 1, ""},
		{"comma before the end of an array", `[1,]`, wire.ErrToken, 3, 1, 4, "/1"},
		{"comma before the end of an object", `{"a":1,}`, wire.ErrToken, 7, 1, 8, ""},
		{"comma first", `[,1]`, wire.ErrToken, 1, 1, 2, "/0"},
		{"colon missing", `{"a" 1}`, wire.ErrToken, 5, 1, 6, ""},
		{"comma missing", "{\"a\":1\n \"b\":2}", wire.ErrToken, 8, 2, 2, "/a"},
		{"wrong bracket", `[1}`, wire.ErrToken, 2, 1, 3, "/0"},
		{"name is no string", `{1:2}`, wire.ErrToken, 1, 1, 2, ""},
		{"single quotes", `{'a':1}`, wire.ErrToken, 1, 1, 2, ""},
		{"comment", `[1 /* x */]`, wire.ErrToken, 3, 1, 4, "/0"},
		{"leading zero", `[01]`, wire.ErrToken, 2, 1, 3, "/0"},
		{"leading plus", `[+1]`, wire.ErrToken, 1, 1, 2, "/0"},
		{"bare point", `[1.]`, wire.ErrNumber, 3, 1, 4, "/0"},
		{"bare minus", `[-]`, wire.ErrNumber, 2, 1, 3, "/0"},
		{"bare exponent", `[1e]`, wire.ErrNumber, 3, 1, 4, "/0"},
		{"NaN", `[NaN]`, wire.ErrToken, 1, 1, 2, "/0"},
		{"two values", `1 2`, wire.ErrTrailing, 2, 1, 3, ""},
		{"byte order mark", "\uFEFF1", wire.ErrToken, 0, 1, 1, ""},
		{"raw newline in a string", "[\"a\nb\"]", wire.ErrControl, 3, 1, 4, "/0"},
		{"unknown escape", `["\x41"]`, wire.ErrEscape, 2, 1, 3, "/0"},
		{"sign in a hex escape", `["\u+041"]`, wire.ErrEscape, 2, 1, 3, "/0"},
		{"not UTF-8", "[\"\xff\"]", wire.ErrUTF8, 2, 1, 3, "/0"},
		{"overlong UTF-8", "\"\xc0\xaf\"", wire.ErrUTF8, 1, 1, 2, ""},
		{"raw surrogate", "\"\xed\xa0\x80\"", wire.ErrUTF8, 1, 1, 2, ""},
		{"high half alone", `"\uD834"`, wire.ErrSurrogate, 1, 1, 2, ""},
		{"low half alone", `"\uDD1E"`, wire.ErrSurrogate, 1, 1, 2, ""},
		{"two high halves", `"\uD834\uD834"`, wire.ErrSurrogate, 1, 1, 2, ""},
		{"name twice", "{\"a\":1,\n\"b\":{},\"a\":2}", wire.ErrDuplicate, 15, 2, 8, "/a"},
		{"name twice, once escaped", `{"a":1,"\u0061":2}`, wire.ErrDuplicate, 7, 1, 8, "/a"},
		{"path through all", `{"x":[0,{"y/~":[true,!]}]}`, wire.ErrToken, 21, 1, 22, "/x/1/y~1~0/1"},
		{"column counts characters", `["é😀",!]`, wire.ErrToken, 10, 1, 7, "/1"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := wire.Read(c.text, wire.Limits{})
			var at *wire.SyntaxError
			require.ErrorAs(t, err, &at)
			assert.ErrorIs(t, err, c.err)
			assert.Equal(t, wire.Place{Offset: c.offset, Line: c.line, Column: c.col, Path: c.path}, at.Place)
		})
	}
}

func TestSkipRefusesWhatReadRefuses(t *testing.T) {
	for _, text := range []string{`{"a":1,"a":2}`, `["\x"]`, `[1`, ``, "\"\xff\"", `[01]`, `{"a":"\uD834"}`} {
		_, err := wire.Skip(text, wire.Limits{})
		assert.Error(t, err, text)
	}
	_, err := wire.Skip(`[[[]]]`, wire.Limits{Depth: 2})
	assert.ErrorIs(t, err, wire.ErrTooDeep)
	_, err = wire.Skip(`[1,2,3]`, wire.Limits{Bytes: 4})
	assert.ErrorIs(t, err, wire.ErrEnd)
	n, err := wire.Skip(` {"a":[1,2]},"b":3}`, wire.Limits{})
	assert.NoError(t, err)
	assert.Equal(t, 12, n)
}

func TestReadFindsADuplicateAmongMany(t *testing.T) {
	var b strings.Builder
	b.WriteString(`{"first":0`)
	for i := range 500 {
		b.WriteString(`,"m` + strings.Repeat("x", i) + `":0`)
	}
	_, err := wire.Read(b.String()+`}`, wire.Limits{})
	require.NoError(t, err)
	_, err = wire.Read(b.String()+`,"first":1}`, wire.Limits{})
	assert.ErrorIs(t, err, wire.ErrDuplicate)
}

func TestReadKeepsToTheLimits(t *testing.T) {
	cases := []struct {
		name, fits, over string
		limits           wire.Limits
		err              error
	}{
		{"bytes", `[1]`, `[10]`, wire.Limits{Bytes: 3}, wire.ErrTooBig},
		{"depth", `[[]]`, `[[[]]]`, wire.Limits{Depth: 2}, wire.ErrTooDeep},
		{"depth beside depth", `[[],[]]`, `[[],[[]]]`, wire.Limits{Depth: 2}, wire.ErrTooDeep},
		{"elements", `[1,2]`, `[1,2,3]`, wire.Limits{Members: 2}, wire.ErrTooMany},
		{"members", `{"a":1,"b":2}`, `{"a":1,"b":2,"c":3}`, wire.Limits{Members: 2}, wire.ErrTooMany},
		{"values", `[[1],2]`, `[[1],2,3]`, wire.Limits{Values: 4}, wire.ErrTooManyAll},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := wire.Read(c.fits, c.limits)
			require.NoError(t, err)
			_, err = wire.Read([]byte(c.over), c.limits)
			assert.ErrorIs(t, err, c.err)
		})
	}
}

func TestReadDoesNotFollowAnAbyss(t *testing.T) {
	_, err := wire.Read(strings.Repeat("[", 900_000), wire.Limits{})
	assert.ErrorIs(t, err, wire.ErrTooDeep)
}

func TestNumbersKeepTheirLiteral(t *testing.T) {
	const text = `[1.0,1e2,-0,0.10,12345678901234567890,1E+2]`
	v, err := wire.Read(text, wire.Limits{})
	require.NoError(t, err)
	out, err := wire.Compact(v)
	require.NoError(t, err)
	assert.Equal(t, text, string(out))
}

func TestAccessorsRefuse(t *testing.T) {
	const text = `{"word":"agar","dose":1.5,"huge":1e309,"count":3,"on":true,"list":["a",1],"none":null}`
	v, err := wire.Read(text, wire.Limits{})
	require.NoError(t, err)
	own := errors.New("unknown agent")
	cases := []struct {
		name string
		take func(f *wire.Fields)
		err  error
		path string
	}{
		{"missing", func(f *wire.Fields) { f.Text("gone", 9) }, wire.ErrMissing, "/gone"},
		{"number for text", func(f *wire.Fields) { f.Text("dose", 9) }, wire.ErrKind, "/dose"},
		{"text too long", func(f *wire.Fields) { f.Text("word", 3) }, wire.ErrLong, "/word"},
		{"text for number", func(f *wire.Fields) { f.Float("word", 0, 1) }, wire.ErrKind, "/word"},
		{"above range", func(f *wire.Fields) { f.Float("dose", 0, 1) }, wire.ErrRange, "/dose"},
		{"below range", func(f *wire.Fields) { f.Float("dose", 2, 3) }, wire.ErrRange, "/dose"},
		{"no float is that big", func(f *wire.Fields) { f.Float("huge", 0, 1e308) }, wire.ErrRange, "/huge"},
		{"not whole", func(f *wire.Fields) { f.Int("dose", 0, 9) }, wire.ErrInteger, "/dose"},
		{"whole but out of range", func(f *wire.Fields) { f.Int("count", 0, 2) }, wire.ErrRange, "/count"},
		{"null for bool", func(f *wire.Fields) { f.Bool("none") }, wire.ErrKind, "/none"},
		{"null is not a missing member", func(f *wire.Fields) { f.BoolOr("none", true) }, wire.ErrKind, "/none"},
		{"too many elements", func(f *wire.Fields) { f.Items("list", 1) }, wire.ErrLong, "/list"},
		{"text for list", func(f *wire.Fields) { f.Items("word", 9) }, wire.ErrKind, "/word"},
		{"element of the wrong kind", func(f *wire.Fields) { f.Texts("list", 9, 9) }, wire.ErrKind, "/list/1"},
		{"list for object", func(f *wire.Fields) { f.Object("list") }, wire.ErrKind, "/list"},
		{"decoder's own reason", func(f *wire.Fields) { f.Fail("word", own) }, own, "/word"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := v.Fields()
			c.take(f)
			var at *wire.ShapeError
			require.ErrorAs(t, f.Err(), &at)
			assert.ErrorIs(t, at, c.err)
			assert.Equal(t, c.path, at.Path)
			assert.Contains(t, at.Error(), c.path)
			f.Fail("on", errors.New("later"))
			assert.ErrorIs(t, f.Err(), c.err, "the first failure counts")
		})
	}
}

func TestFailKeepsTheCloserPlace(t *testing.T) {
	v, err := wire.Read(`{"body":{"dose":-1}}`, wire.Limits{})
	require.NoError(t, err)
	f := v.Fields()
	body := f.Value("body").Fields() // as a decoder of another package would
	body.Float("dose", 0, 100)
	f.Fail("body", body.Err())
	var at *wire.ShapeError
	require.ErrorAs(t, f.Err(), &at)
	assert.Equal(t, "/body/dose", at.Path)
}

func TestFieldsDefaultsForMissingMembers(t *testing.T) {
	v, err := wire.Read(`{"n":2}`, wire.Limits{})
	require.NoError(t, err)
	f := v.Fields()
	assert.Equal(t, "x", f.TextOr("a", "x", 9))
	assert.Equal(t, 0.5, f.FloatOr("b", 0.5, 0, 1))
	assert.EqualValues(t, 7, f.IntOr("c", 7, 0, 9))
	assert.True(t, f.BoolOr("d", true))
	assert.Empty(t, f.ItemsOr("e", 9))
	assert.Empty(t, f.Texts("f", 9, 9))
	assert.EqualValues(t, 2, f.IntOr("n", 7, 0, 9))
	assert.NoError(t, f.Err())
}

func TestFieldsOfNoObject(t *testing.T) {
	v, err := wire.Read(` [1]`, wire.Limits{})
	require.NoError(t, err)
	f := v.Fields()
	assert.Zero(t, f.Int("a", 0, 9))
	assert.Empty(t, f.Rest())
	assert.ErrorIs(t, f.Err(), wire.ErrKind)
	var zero wire.Value
	assert.ErrorIs(t, zero.Fields().Err(), wire.ErrKind)
}

func TestRestPassesUnknownMembersThrough(t *testing.T) {
	const text = `{"id":"a1","shade":{"hue":1.50},"dose":1,"later":[null,"x"]}`
	v, err := wire.Read(text, wire.Limits{})
	require.NoError(t, err)
	f := v.Fields()
	id, dose := f.Text("id", 9), f.Float("dose", 0, 100)
	require.NoError(t, f.Err())
	rest := wire.Clone(f.Rest())

	w := wire.NewWriter()
	w.BeginObject()
	w.Name("id").Text(id)
	w.Name("dose").Float(dose)
	w.Members(rest)
	w.EndObject()
	out, err := w.Bytes()
	require.NoError(t, err)
	assert.Equal(t, `{"id":"a1","dose":1,"shade":{"hue":1.50},"later":[null,"x"]}`, string(out))
}

func TestSizeCountsAsTheLimitsDo(t *testing.T) {
	const text = `{"a":[1,[2,{}]],"b":null}`
	v, err := wire.Read(text, wire.Limits{})
	require.NoError(t, err)
	values, depth, members := v.Size()
	fits := wire.Limits{Values: values, Depth: depth, Members: members}
	_, err = wire.Read(text, fits)
	assert.NoError(t, err)
	assert.NoError(t, v.Within(fits))
	for _, c := range []struct {
		over wire.Limits
		err  error
	}{
		{wire.Limits{Values: values - 1}, wire.ErrTooManyAll},
		{wire.Limits{Depth: depth - 1}, wire.ErrTooDeep},
		{wire.Limits{Members: members - 1}, wire.ErrTooMany},
	} {
		_, err = wire.Read(text, c.over)
		assert.ErrorIs(t, err, c.err)
		var shape *wire.ShapeError
		require.ErrorAs(t, v.Within(c.over), &shape)
		assert.ErrorIs(t, shape, c.err)
		assert.Equal(t, 1, shape.Line)
	}
}

func TestCutKeepsCharactersWhole(t *testing.T) {
	assert.Equal(t, "cr", wire.Cut("crème", 3))
	assert.Equal(t, "crè", wire.Cut("crème", 4))
	assert.Equal(t, "crème", wire.Cut("crème", 6))
	assert.Equal(t, "", wire.Cut("😀", 3))
}
