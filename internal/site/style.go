package site

import (
	"fmt"
	"io/fs"
	"regexp"
	"strings"
)

const (
	stylesheet    = "style.css"
	labStylesheet = "lab.css"
)

// addStyle joins web/style/*.css, in lexical order, to one stylesheet, and
// web/style/lab/*.css to another that comes with the lab.
func (b *builder) addStyle() error {
	if err := b.joinStyle(stylesheet, "style/*.css"); err != nil {
		return err
	}
	return b.joinStyle(labStylesheet, "style/lab/*.css")
}

func (b *builder) joinStyle(made, pattern string) error {
	names, err := fs.Glob(b.web, pattern) // sorted
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
	b.made[made] = []byte(joined.String())
	return nil
}

// sheet returns a stylesheet as it stands in the page. What would end its element
// early, or pass for a comment of the page, is refused.
func (b *builder) sheet(name string) (string, error) {
	style, err := b.content(name)
	if err != nil {
		return "", err
	}
	for _, mark := range []string{"</", "<!--"} {
		if strings.Contains(string(style), mark) {
			return "", fmt.Errorf("a stylesheet in the page cannot hold %s", mark)
		}
	}
	return string(style), nil
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
