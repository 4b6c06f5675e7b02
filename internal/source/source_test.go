package source_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/source"
)

func TestRefsNeedATextUnlessTheyArePractice(t *testing.T) {
	for _, tag := range []source.Tag{source.Published, source.Open, source.Derived, source.Tertiary, source.Memory} {
		assert.False(t, source.Ref{Tag: tag}.Valid(), tag)
		assert.True(t, source.Ref{Tag: tag, Text: "a work"}.Valid(), tag)
	}
	assert.True(t, source.Ref{Tag: source.Practice}.Valid())
	assert.False(t, source.Ref{}.Valid())
	assert.False(t, source.Ref{Tag: "hearsay", Text: "x"}.Valid())
}

func TestOnlyWhatWasReadIsAFact(t *testing.T) {
	for tag, thumb := range map[source.Tag]bool{
		source.Published: false, source.Open: false, source.Tertiary: false,
		source.Derived: true, source.Memory: true, source.Practice: true,
	} {
		assert.Equal(t, thumb, tag.RuleOfThumb(), tag)
	}
}
