package wire

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"maps"
	"net/http"
	"slices"
	"sync"

	"golang.org/x/text/language"

	"wayhouse/api/phrase"
)

//go:embed described.fr.txt
var describedInFrench string

// inFrench are the texts of descriptions for people in French, by the English ones:
// pairs of lines of described.fr.txt, and the words for statuses.
var inFrench = sync.OnceValue(func() map[string]string {
	french := phrase.French()
	out := map[string]string{}
	for _, status := range Statuses() {
		out[http.StatusText(status)] = french.Say(StatusTitle(status))
	}
	maps.Copy(out, french.Pairs(describedInFrench))
	return out
})

// Translated is a description, as JSON, of data or of a whole service, with its texts
// for people in a language. The error is that of a text that is no JSON.
func Translated(described []byte, in *phrase.Language) ([]byte, error) {
	if in.Tag() != language.French {
		return described, nil
	}
	var doc any
	d := json.NewDecoder(bytes.NewReader(described))
	d.UseNumber() // bounds stay as they are written
	if err := d.Decode(&doc); err != nil {
		return nil, err
	}
	translate(doc, inFrench())
	return json.Marshal(doc)
}

// texts are the keys of what is for people, notTexts those of values of the described.
var (
	texts    = []string{"description", "summary", "title"}
	notTexts = []string{"default", "enum", "example", "examples"}
)

// translate puts words into a description. A property may be called as a text is; it is
// an object then.
func translate(node any, words map[string]string) {
	switch node := node.(type) {
	case map[string]any:
		for key, value := range node {
			text, isText := value.(string)
			if other, ok := words[text]; ok && isText && slices.Contains(texts, key) {
				node[key] = other
			} else if !slices.Contains(notTexts, key) {
				translate(value, words)
			}
		}
	case []any:
		for _, value := range node {
			translate(value, words)
		}
	}
}
