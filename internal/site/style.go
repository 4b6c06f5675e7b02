package site

import (
	"fmt"
	"io/fs"
	"regexp"
	"strings"
)

const stylesheet = "style.css"

// addStyle joins web/style/*.css, in lexical order, to one stylesheet.
func (b *builder) addStyle() error {
	names, err := fs.Glob(b.web, "style/*.css") // sorted
	if err != nil {
		return err
	}
	var joined strings.Builder
	for _, name := range names {
		raw, err := b.read(name)
		if err != nil {
			return err
		}
		joined.Write(raw)
	}
	b.made[stylesheet] = []byte(joined.String())
	return nil
}

// property returns the first value that the stylesheet gives to a custom
// property, so that the manifest and the theme colour need not repeat it.
func (b *builder) property(name string) (string, error) {
	if !strings.HasPrefix(name, "--") {
		return "", fmt.Errorf("a custom property begins with --")
	}
	re := regexp.MustCompile(`(?:^|[\s;{])` + regexp.QuoteMeta(name) + `\s*:\s*([^;}]+)`)
	m := re.FindSubmatch(b.made[stylesheet])
	if m == nil {
		return "", fmt.Errorf("web/style sets no such property")
	}
	return strings.TrimSpace(string(m[1])), nil
}
