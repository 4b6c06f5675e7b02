package formula_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/unit"
)

// strewn writes a member of its own into every object of a text, and gives how
// many.
func strewn(text string, r *rand.Rand) (string, []string) {
	var b strings.Builder
	var marks []string
	quoted := false
	for i, c := range text {
		if c == '"' && (i == 0 || text[i-1] != '\\') {
			quoted = !quoted
		}
		b.WriteRune(c)
		if c != '{' || quoted {
			continue
		}
		mark := fmt.Sprintf(`"new-%d":%s`, len(marks), []string{`1.50`, `{"a":[null]}`, `["x",{"form":2}]`, `"{"`}[r.IntN(4)])
		marks = append(marks, mark)
		b.WriteString(mark)
		if text[i+1] != '}' {
			b.WriteByte(',')
		}
	}
	return b.String(), marks
}

// edits are changes of one thing; the objects of the record are all there after it.
var edits = map[string]func(*formula.Formula){
	"nothing":        func(*formula.Formula) {},
	"the name":       func(f *formula.Formula) { f.Name = "another" },
	"an amount":      func(f *formula.Formula) { f.Parts[0].Amount.Value += 7 },
	"a part's name":  func(f *formula.Formula) { f.Parts[0].Name = "renamed" },
	"a dose":         func(f *formula.Formula) { f.Doses[0].Amount.Value += 0.25 },
	"a dose's name":  func(f *formula.Formula) { f.Doses[0].Agent, f.Doses[0].Name = "", "renamed" },
	"a part before":  func(f *formula.Formula) { f.Parts = append([]formula.Part{{Name: "first"}}, f.Parts...) },
	"the other way":  func(f *formula.Formula) { f.Parts[0], f.Parts[len(f.Parts)-1] = f.Parts[len(f.Parts)-1], f.Parts[0] },
	"a loss":         func(f *formula.Formula) { f.Make.Losses.Sieve = unit.Amount{Value: 3, Unit: unit.Gram} },
	"the lab":        func(f *formula.Formula) { f.Lab = formula.Fields{"lab-foam-covers": "12"} },
	"the words kept": func(f *formula.Formula) { f.Unread, f.Tags, f.Notes = nil, nil, "" },
}

func TestEveryMemberOfANewerProgramIsHandedOn(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for what, edit := range edits {
		for range 200 {
			f := randomFormula(r)
			for i := range f.Parts {
				f.Parts[i].Name = fmt.Sprint("part ", i)
			}
			body, err := f.Encode()
			require.NoError(t, err)
			newer, marks := strewn(string(body), r)
			require.Greater(t, len(marks), 4)
			// As the page does it: the record is read into typed fields and back.
			got, err := formula.Decode([]byte(newer))
			require.NoError(t, err, newer)
			f = formula.FieldsOf(got, unit.Style{}).Read(find).Formula
			edit(&f)
			now, err := f.Encode()
			require.NoError(t, err)
			out := string(formula.HandOn(now, []byte(newer), formula.Again))
			for _, m := range marks {
				require.Equal(t, 1, strings.Count(out, m), "%s: %s\n%s\n%s", what, m, newer, out)
			}
			back, err := formula.Decode([]byte(out))
			require.NoError(t, err)
			back.Extra = nil
			require.Equal(t, f, back, what)
		}
	}
}

func TestHandOnLeavesOutWhatIsGone(t *testing.T) {
	const old = `{"form":1,"name":"a","parts":[{"name":"x","amount":{"value":1,"unit":"g","rough":true},"of":"x"},{"name":"y","of":"y"}],"doses":[{"name":"agar","of":"agar"}],"notes":"n","make":{"mode":"liquid"}}`
	for name, c := range map[string]struct{ now, want string }{
		"a row": {
			`{"form":1,"name":"a","parts":[{"name":"y"}],"doses":[],"make":{"mode":"liquid"}}`,
			`{"form":1,"name":"a","parts":[{"name":"y","of":"y"}],"doses":[],"make":{"mode":"liquid"}}`,
		},
		"an amount": {
			`{"form":1,"name":"a","parts":[{"name":"x"},{"name":"y"}],"doses":[],"make":{"mode":"liquid"}}`,
			`{"form":1,"name":"a","parts":[{"name":"x","of":"x"},{"name":"y","of":"y"}],"doses":[],"make":{"mode":"liquid"}}`,
		},
		"a row for another one": {
			`{"form":1,"name":"a","parts":[{"name":"z","amount":{"value":9,"unit":"g"}},{"name":"y"}],"doses":[],"make":{"mode":"liquid"}}`,
			`{"form":1,"name":"a","parts":[{"name":"z","amount":{"value":9,"unit":"g"}},{"name":"y","of":"y"}],"doses":[],"make":{"mode":"liquid"}}`,
		},
	} {
		assert.Equal(t, c.want, string(formula.HandOn([]byte(c.now), []byte(old), formula.Again)), name)
	}
}

func TestHandOnGivesNoRecordThatCannotBeRead(t *testing.T) {
	const now = `{"form":1,"name":"a","parts":[],"doses":[],"make":{"mode":"liquid"}}`
	large := strings.Repeat("x", 200<<10)
	for name, c := range map[string]struct{ now, old string }{
		"damaged":    {now, `{"form":1,`},
		"of a newer": {now, strings.Replace(now, `"form":1`, `"form":9,"z":1`, 1)},
		"none":       {now, ""},
		"too much":   {strings.Replace(now, `"a"`, `"a","notes":"`+large+`"`, 1), strings.Replace(now, `"a"`, `"a","z":"`+large+`"`, 1)},
	} {
		assert.Equal(t, c.now, string(formula.HandOn([]byte(c.now), []byte(c.old), formula.Again)), name)
	}
}

// Whatever stood there and whatever takes its place: what is known of the result
// is what was to be stored.
func FuzzHandOn(f *testing.F) {
	for _, name := range []string{"formula", "made", "shelf"} {
		text, err := os.ReadFile("testdata/form1/" + name + ".json")
		require.NoError(f, err)
		f.Add(string(text), string(text))
		more, _ := strewn(string(text), rand.New(rand.NewPCG(1, 2)))
		f.Add(string(text), more)
	}
	f.Fuzz(func(t *testing.T, now, old string) {
		fresh, err := formula.Decode([]byte(now))
		if err != nil {
			return
		}
		out, err := formula.Decode(formula.HandOn([]byte(now), []byte(old), formula.Again))
		require.NoError(t, err)
		fresh.Extra, out.Extra = nil, nil
		one, err := fresh.Encode()
		require.NoError(t, err)
		two, err := out.Encode()
		require.NoError(t, err)
		require.Equal(t, string(one), string(two))
	})
}
