package site

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"path"
	"regexp"
	"slices"
	"strings"
)

// CSP is the content security policy of the site's files: only files of the site
// itself, WebAssembly allowed, no inline script or style, no request to anywhere else.
const CSP = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; " + ownStyle + "; " +
	"img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; " +
	"base-uri 'none'; form-action 'none'"

const ownStyle = "style-src 'self'"

// pageCSP is the policy of the page: [CSP], and the one stylesheet that stands in the
// page, told by its hash. One that had to be fetched would hold up the first frame.
func pageCSP(style []byte) string {
	sum := sha256.Sum256(style)
	return strings.Replace(CSP, ownStyle, ownStyle+" 'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'", 1)
}

// maxDepth bounds parts within parts, so that a part that takes itself in is
// an error and not an endless build.
const maxDepth = 8

var (
	include = regexp.MustCompile(`(?m)^[ \t]*<!--\s*include\s+(\S+)\s*-->[ \t]*\n?|<!--\s*include\s+(\S+)\s*-->`)
	token   = regexp.MustCompile(`\{\{([a-z]+)(?:[ \t]+([^{}\n]*?))?[ \t]*\}\}`)
	braces  = regexp.MustCompile(`\{\{[^\n]{0,40}`)
)

func hasTokens(name string) bool {
	switch path.Ext(name) {
	case ".html", ".css", ".js", ".webmanifest":
		return true
	}
	return false
}

// join replaces each include comment of an HTML file by the part it names.
func (b *builder) join(name, text string, depth int) (string, error) {
	if path.Ext(name) != ".html" {
		return text, nil
	}
	if depth > maxDepth {
		return "", fmt.Errorf("%s: parts within parts go deeper than %d", name, maxDepth)
	}
	return replace(include, text, func(m []string) (string, error) {
		part := m[1] + m[2]
		raw, err := b.read(part)
		if err != nil {
			return "", fmt.Errorf("%s: include: %w", name, err)
		}
		return b.join(part, string(raw), depth+1)
	})
}

// expand replaces the tokens of a file.
func (b *builder) expand(name, text string) ([]byte, error) {
	text, err := replace(token, text, func(m []string) (string, error) {
		value, err := b.value(name, m[1], m[2])
		if err != nil {
			return "", fmt.Errorf("%s: %s: %w", name, m[0], err)
		}
		return value, nil
	})
	if err != nil {
		return nil, err
	}
	text = withoutComments(name, text)
	if left := braces.FindString(text); left != "" {
		return nil, fmt.Errorf("%s: %q is no token of the build", name, left)
	}
	return []byte(text), nil
}

// comments finds what is written for the reader of the source, with the lines
// that it leaves empty. In JavaScript only comments that fill their lines go:
// telling others from strings would take a parser.
var comments = map[string]*regexp.Regexp{
	".html": regexp.MustCompile(`(?s)\s*<!--.*?-->`),
	".css":  regexp.MustCompile(`(?s)\s*/\*.*?\*/`),
	".js":   regexp.MustCompile(`(?m)^[ \t]*//.*\n|^[ \t]*\n`),
}

func withoutComments(name, text string) string {
	if re := comments[path.Ext(name)]; re != nil {
		return re.ReplaceAllString(text, "")
	}
	return text
}

// value is what a token stands for in the named file.
func (b *builder) value(name, kind, arg string) (string, error) {
	switch kind {
	case "asset":
		return b.asset(arg)
	case "script":
		script, err := b.content(arg)
		return string(script), err
	case "languages":
		return b.languages(arg)
	case "text":
		return b.sentence(arg)
	case "style":
		return b.property(arg)
	case "opening":
		return b.firstOpening()
	case "sheet":
		return b.sheet(arg)
	case "csp":
		style, err := b.content(stylesheet)
		return pageCSP(style), err
	case "release":
		return html.EscapeString(b.release), nil
	case "version", "precache":
		if !slices.Contains(rooted, name) {
			return "", fmt.Errorf("is known only to %s", strings.Join(rooted, ", "))
		}
		if kind == "version" {
			return b.version, nil
		}
		return b.precache(arg)
	}
	return "", fmt.Errorf("is no token of the build")
}

// replace replaces each match of re in text by what with returns for its
// groups, and stops at the first error.
func replace(re *regexp.Regexp, text string, with func(groups []string) (string, error)) (string, error) {
	var first error
	out := re.ReplaceAllStringFunc(text, func(match string) string {
		if first != nil {
			return ""
		}
		value, err := with(re.FindStringSubmatch(match))
		first = err
		return value
	})
	return out, first
}
