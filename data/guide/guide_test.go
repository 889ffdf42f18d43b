package guide

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestTopics(t *testing.T) {
	topics := slices.Concat(Topics("en"), Topics("fr"))
	if len(topics) < 5 {
		t.Fatalf("%d topics", len(topics))
	}
	for _, topic := range topics {
		heading, body, _ := strings.Cut(topic.Text, "\n\n")
		if !regexp.MustCompile("^[a-z]+$").MatchString(topic.Name) || topic.Title == "" || heading != "# "+topic.Title {
			t.Errorf("%q begins with %q", topic.Name, heading)
		}
		if len(topic.Title) > 60 || strings.TrimSpace(body) == "" {
			t.Errorf("%s: the title has %d characters, the page %d", topic.Name, len(topic.Title), len(body))
		}
		for i, line := range strings.Split(topic.Text, "\n") {
			if len([]rune(line)) > 120 && !strings.HasPrefix(line, "|") && !strings.HasPrefix(line, "INVENTED.") {
				t.Errorf("%s, line %d is longer than 120 columns", topic.Name, i+1)
			}
		}
	}
}

// What stands in code in a page: what is typed and what is printed, the same in every
// language.
var code = regexp.MustCompile("`[^`\n]+`")

// A page in French has the headings, blocks, lines of tables and words in code of the
// English one, and none stands in English.
func TestFrenchPages(t *testing.T) {
	english, french := Topics("en"), Topics("fr")
	if len(english) != len(french) {
		t.Fatalf("%d pages and %d", len(english), len(french))
	}
	for i, topic := range english {
		fr := french[i]
		if fr.Name != topic.Name || fr.Text == topic.Text {
			t.Errorf("%s has no French page", topic.Name)
			continue
		}
		for what, in := range map[string]func(string) []string{
			"words in code": words, "marks of headings": marks("#"), "rows of tables": marks("|"), "blocks": blocksOf,
		} {
			if a, b := in(topic.Text), in(fr.Text); !slices.Equal(a, b) {
				t.Errorf("%s: %s are\n%q\nin English and\n%q\nin French", topic.Name, what, a, b)
			}
		}
		for i, line := range strings.Split(strings.Join(textOf(fr.Text), "\n"), "\n") {
			if at := ofEnglish.FindString(code.ReplaceAllString(line, "")); at != "" {
				t.Errorf("%s, line %d of the text: %q in %s", fr.Name, i+1, at, line)
			}
		}
	}
}

// ofEnglish are words that no English text of some length does without, and French has
// not; names of publishers and of licences keep theirs.
var ofEnglish = regexp.MustCompile(`\b(the|The|is|are|of|which|with|what|not|and)\b`)

// words are those in code, once each.
func words(page string) []string {
	all := code.FindAllString(strings.Join(strings.Fields(strings.Join(textOf(page), "\n")), " "), -1)
	slices.Sort(all)
	return slices.Compact(all)
}

// marks are how the lines of a kind begin and how many of its signs they have.
func marks(sign string) func(string) []string {
	return func(page string) (out []string) {
		for _, line := range strings.Split(strings.Join(textOf(page), "\n"), "\n") {
			if strings.HasPrefix(line, sign) {
				out = append(out, strings.Repeat(sign, strings.Count(line, sign)))
			}
		}
		return out
	}
}

// blocksOf are the blocks of a page, textOf what stands between them.
func blocksOf(page string) []string { return every(page, 1) }

func textOf(page string) []string { return every(page, 0) }

func every(page string, from int) (out []string) {
	for i, part := range strings.Split(page, "\n"+fence) {
		if i%2 == from {
			out = append(out, part)
		}
	}
	return out
}
