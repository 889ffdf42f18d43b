package guide

import (
	"regexp"
	"strings"
	"testing"
)

func TestTopics(t *testing.T) {
	topics := Topics()
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
