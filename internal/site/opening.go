package site

import (
	"encoding/json"
	"errors"
	"fmt"

	"tremblant/internal/phrase"
	"tremblant/internal/screen"
)

// A first visit's opening is what the program says first when nothing was left for
// it. The page carries it out before the program is there. English has it in the
// page's script, since the page opens in English; every other language has it in its
// catalogue, with which it comes.
const openingKey = "opening"

// opening is that of a language, by its texts.
func opening(catalogue map[string]string) (string, error) {
	if _, ok := catalogue[openingKey]; ok {
		return "", fmt.Errorf("key %q is the build's own", openingKey)
	}
	patch := screen.FirstOpening(phrase.BookOf(func(key string) (string, bool) {
		s, ok := catalogue[key]
		return s, ok
	}))
	if patch == "" {
		return "", errors.New("the screen does not open with these texts")
	}
	return patch, nil
}

// firstOpening is the English one, as JavaScript.
func (b *builder) firstOpening() (string, error) {
	patch, err := opening(b.english)
	if err != nil {
		return "", err
	}
	literal, err := json.Marshal(patch)
	return string(literal), err
}
