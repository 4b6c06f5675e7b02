package book_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// schema checks values against the keywords of JSON Schema 2020-12 that
// schema.json uses, and fails on a keyword that it does not know.
type schema struct{ root map[string]any }

func loadSchema(t testing.TB) schema {
	text, err := os.ReadFile("schema.json")
	require.NoError(t, err)
	var s schema
	require.NoError(t, json.Unmarshal(text, &s.root))
	return s
}

func (s schema) check(text []byte) error {
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		return err
	}
	return s.value(s.root, v, "")
}

func (s schema) value(rule map[string]any, v any, at string) error {
	for keyword, arg := range rule {
		if err := s.keyword(keyword, arg, rule, v, at); err != nil {
			return err
		}
	}
	return nil
}

func (s schema) keyword(keyword string, arg any, rule map[string]any, v any, at string) error {
	bad := func() error { return fmt.Errorf("%s: %v breaks %s %v", at, v, keyword, arg) }
	object, _ := v.(map[string]any)
	list, _ := v.([]any)
	text, isText := v.(string)
	number, isNumber := v.(float64)
	limit, _ := arg.(float64)
	ok := true
	switch keyword {
	case "$schema", "title", "$defs":
	case "$ref":
		name := strings.TrimPrefix(arg.(string), "#/$defs/")
		return s.value(s.root["$defs"].(map[string]any)[name].(map[string]any), v, at)
	case "type":
		ok = hasType(arg.(string), v)
	case "const":
		ok = arg == v
	case "required":
		for _, name := range arg.([]any) {
			_, there := object[name.(string)]
			ok = ok && there
		}
	case "properties":
		for name, sub := range arg.(map[string]any) {
			if member, there := object[name]; there {
				if err := s.value(sub.(map[string]any), member, at+"/"+name); err != nil {
					return err
				}
			}
		}
	case "additionalProperties":
		for name := range object {
			_, known := rule["properties"].(map[string]any)[name]
			ok = ok && (known || arg == true)
		}
	case "items":
		for i, item := range list {
			if err := s.value(arg.(map[string]any), item, fmt.Sprint(at, "/", i)); err != nil {
				return err
			}
		}
	case "maxItems":
		ok = float64(len(list)) <= limit
	case "minLength":
		ok = !isText || float64(utf8.RuneCountInString(text)) >= limit
	case "maxLength":
		ok = !isText || float64(utf8.RuneCountInString(text)) <= limit
	case "pattern":
		ok = !isText || regexp.MustCompile(arg.(string)).MatchString(text)
	case "minimum":
		ok = !isNumber || number >= limit
	case "maximum":
		ok = !isNumber || number <= limit
	default:
		return fmt.Errorf("this validator does not know %q", keyword)
	}
	if !ok {
		return bad()
	}
	return nil
}

func hasType(want string, v any) bool {
	switch v := v.(type) {
	case map[string]any:
		return want == "object"
	case []any:
		return want == "array"
	case string:
		return want == "string"
	case float64:
		return want == "number" || want == "integer" && v == math.Trunc(v)
	}
	return false
}

func TestTheSchemaTakesAnExportAndRefusesWhatTheReaderRefuses(t *testing.T) {
	s := loadSchema(t)
	b := kitchen(t)
	text := export(t, b)
	require.NoError(t, s.check(text))
	for _, c := range refusedFiles {
		if !c.schema {
			continue
		}
		require.Error(t, s.check([]byte(c.text)), c.name)
	}
	// The example of the description is one that both take.
	description, err := os.ReadFile("FORMAT.md")
	require.NoError(t, err)
	_, rest, _ := strings.Cut(string(description), "```json\n")
	example, _, _ := strings.Cut(rest, "```")
	require.NoError(t, s.check([]byte(example)))
	f, err := b.ReadFile([]byte(example))
	require.NoError(t, err)
	again, err := f.Encode()
	require.NoError(t, err)
	assert.Equal(t, example, string(again))
}
