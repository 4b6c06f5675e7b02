package site

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"io"
	"io/fs"
	"path"
	"regexp"
	"strings"
)

// english is the language that every other one is measured against, and the
// one that the page falls back to.
const english = "en"

var (
	languageTag  = regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$`)
	textName     = regexp.MustCompile(`^(?:text|lab)\.([A-Za-z0-9-]+)(?:\.[0-9a-f]+)?\.json$`)
	sentenceSlot = regexp.MustCompile(`\{[^{}]*\}`)
)

// languageOf returns the language of a text catalogue by its name, or "".
func languageOf(name string) string {
	if m := textName.FindStringSubmatch(name); m != nil {
		return m[1]
	}
	return ""
}

// addText merges the catalogues of every language and checks them against English.
func (b *builder) addText() error {
	folders, err := fs.ReadDir(b.web, "text")
	if err != nil {
		return fmt.Errorf("web/text: %w", err)
	}
	found := map[string]bool{}
	for _, folder := range folders {
		if !folder.IsDir() || !languageTag.MatchString(folder.Name()) {
			return fmt.Errorf("text/%s: web/text holds one folder for each language and nothing else", folder.Name())
		}
		found[folder.Name()] = true
	}
	if !found[english] {
		return fmt.Errorf("web/text/%s is missing", english)
	}
	b.langs, b.english = sortedKeys(found), map[string]string{}
	for _, group := range textGroups {
		if err := b.addGroup(group.name, group.folder); err != nil {
			return err
		}
	}
	return nil
}

// textGroups are the two catalogues of a language: the one of the first load,
// and the one that comes with the lab.
var textGroups = []struct{ name, folder string }{{firstLoad, ""}, {"lab", "lab/"}}

const firstLoad = "text"

// addGroup makes one catalogue in every language.
func (b *builder) addGroup(name, folder string) error {
	reference, err := b.mergeLanguage(english, folder)
	if err != nil {
		return err
	}
	for key, sentence := range reference {
		if other, ok := b.english[key]; ok && other != sentence {
			return fmt.Errorf("text/%s: key %q has one text for the first load and another for the lab", english, key)
		}
		b.english[key] = sentence
	}
	for _, lang := range b.langs {
		catalogue, err := b.mergeLanguage(lang, folder)
		if err != nil {
			return err
		}
		if err := complete(lang, catalogue, reference); err != nil {
			return err
		}
		if name == firstLoad && lang != english {
			if catalogue[openingKey], err = opening(catalogue); err != nil {
				return fmt.Errorf("text/%s: %w", lang, err)
			}
		}
		if b.made[name+"."+lang+".json"], err = encodeText(catalogue); err != nil {
			return err
		}
	}
	return nil
}

func (b *builder) mergeLanguage(lang, folder string) (map[string]string, error) {
	names, err := fs.Glob(b.web, "text/"+lang+"/"+folder+"*.json") // sorted
	if err != nil {
		return nil, err
	}
	all, from := map[string]string{}, map[string]string{}
	for _, name := range names {
		raw, err := b.read(name)
		if err != nil {
			return nil, err
		}
		err = decodeText(raw, func(key, sentence string) error {
			// Two subjects may share a word; they may not say it in two ways.
			if earlier, ok := from[key]; ok && (all[key] != sentence || earlier == path.Base(name)) {
				return fmt.Errorf("key %q stands in %s already, with another text", key, earlier)
			}
			all[key], from[key] = sentence, path.Base(name)
			return nil
		})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return all, nil
}

// decodeText reads one flat JSON object of strings, in order. Reading it token
// by token finds keys that stand twice, which a map would swallow.
func decodeText(raw []byte, each func(key, sentence string) error) error {
	d := json.NewDecoder(bytes.NewReader(raw))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return errors.New("must be one JSON object")
	}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return err
		}
		value, err := d.Token()
		if err != nil {
			return err
		}
		sentence, ok := value.(string)
		if !ok {
			return fmt.Errorf("the value of %q is not a string", key)
		}
		if err := each(key.(string), sentence); err != nil {
			return err
		}
	}
	if _, err := d.Token(); err != nil {
		return err
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("has something after the object")
	}
	return nil
}

func encodeText(catalogue map[string]string) ([]byte, error) {
	var buf bytes.Buffer
	e := json.NewEncoder(&buf) // sorts the keys
	e.SetEscapeHTML(false)
	err := e.Encode(catalogue)
	return bytes.TrimSpace(buf.Bytes()), err
}

// complete checks that a language has the keys of English, no others, and no
// slots in braces that the English sentence lacks: nothing would fill them.
func complete(lang string, catalogue, reference map[string]string) error {
	var errs []error
	for _, key := range sortedKeys(reference) {
		sentence, ok := catalogue[key]
		if !ok {
			errs = append(errs, fmt.Errorf("text/%s: key %q is missing", lang, key))
		}
		for _, slot := range sentenceSlot.FindAllString(sentence, -1) {
			if !strings.Contains(reference[key], slot) {
				errs = append(errs, fmt.Errorf("text/%s: %q has %s, which English has not", lang, key, slot))
			}
		}
	}
	for _, key := range sortedKeys(catalogue) {
		if _, ok := reference[key]; !ok {
			errs = append(errs, fmt.Errorf("text/%s: English has no key %q", lang, key))
		}
	}
	return errors.Join(errs...)
}

// languages ships the catalogues of a group, "" for the first load's, and lists
// them as JSON, by language.
func (b *builder) languages(group string) (string, error) {
	if group == "" {
		group = firstLoad
	}
	names := map[string]string{}
	for _, lang := range b.langs {
		name, err := b.asset(group + "." + lang + ".json")
		if err != nil {
			return "", err
		}
		names[lang] = name
	}
	list, err := json.Marshal(names)
	return string(list), err
}

// sentence is the English text of a key, for the page as it is before the
// catalogue arrives.
func (b *builder) sentence(key string) (string, error) {
	s, ok := b.english[key]
	if !ok {
		return "", fmt.Errorf("web/text/%s has no such key", english)
	}
	return html.EscapeString(s), nil
}
