package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// A method that was saved for a day keeps that day: reopened when it has come, it is not
// planned for the day after.
func TestTheDayOfAMethodComesNearer(t *testing.T) {
	k := someone(t)
	k.app.LabOn()
	k.typing("lab-method-service", "19:30", "lab-method-day", "2", "name", "Bay set")
	k.press("save")
	require.False(t, k.app.book.changed())
	draft := k.app.Draft()
	for days, want := range []string{"2", "1", "", ""} {
		for how, left := range map[string]string{"from the draft": draft, "from the book": ""} {
			again := opening(t, k.store, left)
			again.time = firstDay + int64(days)*day
			again.app.Store(t.Context(), book.New(again.store, Checks()), "")
			again.app.LabOn()
			again.show()
			if left == "" {
				again.press("open", 1)
			}
			again.goTo("#pan")
			assert.Equal(t, want, again.told().Fields["lab-method-day"], "%s, %d days later", how, days)
			assert.Equal(t, "19:30", again.told().Fields["lab-method-service"])
			assert.False(t, again.app.book.changed(), "%s, %d days later: nobody has changed it", how, days)
		}
	}
	k.time += day
	k.goTo("#book")
	k.goTo("#pan")
	assert.Equal(t, "1", k.told().Fields["lab-method-day"], "in a page that stayed open, too")
	for _, one := range k.app.labTraits(k.app.pan.reading.Formula) {
		assert.NotEqual(t, methodOn, one.kind, "said twice")
	}
	k.typing("lab-method-day", "")
	k.time += day
	k.goTo("#pan")
	assert.Empty(t, k.told().Fields["lab-method-day"], "today is meant anew each day")
}
