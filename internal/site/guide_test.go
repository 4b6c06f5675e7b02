package site

import (
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The contributors' guide names every figure of the page and every input of the
// lab: tools and tests rely on them. A table's row gives the common beginning
// once: "`lab-foam-base`, `-left-over`".
func TestGuideNamesFiguresAndInputs(t *testing.T) {
	raw, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	named := guideNames(string(raw))
	figure := regexp.MustCompile(`data-figure="([^"]+)"`)
	input := regexp.MustCompile(`<(?:input|select|textarea)[^>]*?\sname="(lab-[^"]+)"`)
	found := 0
	web := os.DirFS("../../web")
	require.NoError(t, fs.WalkDir(web, ".", func(name string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, ".html") {
			return err
		}
		html, err := fs.ReadFile(web, name)
		for _, re := range []*regexp.Regexp{figure, input} {
			for _, m := range re.FindAllStringSubmatch(string(html), -1) {
				found++
				assert.True(t, named[strings.ReplaceAll(m[1], "#", "N")], "%s of %s is not in DEVELOPERS.md", m[1], name)
			}
		}
		return err
	}))
	assert.Greater(t, found, 100)
}

// guideNames reads the names of the guide's tables.
func guideNames(guide string) map[string]bool {
	named := map[string]bool{}
	quoted := regexp.MustCompile("`([^`]+)`")
	section := regexp.MustCompile(`^lab-[a-z]+`)
	for line := range strings.Lines(guide) {
		if !strings.HasPrefix(line, "|") {
			continue
		}
		begin := ""
		for i, m := range quoted.FindAllStringSubmatch(line, -1) {
			if i == 0 {
				begin = section.FindString(m[1])
			}
			named[m[1]] = true
			named[begin+"-"+strings.TrimPrefix(m[1], "-")] = true
		}
	}
	return named
}
