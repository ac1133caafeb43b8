package code

import (
	"os"
	"strings"
	"testing"
)

// The reference names every code that is read, with all its keys: those with coordinates on one page, those of a tape on another.
func TestReferenceNamesEveryCode(t *testing.T) {
	var pages string
	for _, page := range []string{"codes", "tape"} {
		text, err := os.ReadFile("../../../cmd/command/reference/" + page + ".md")
		if err != nil {
			t.Fatal(err)
		}
		pages += string(text)
	}
	same := strings.NewReplacer("diameter", "d", "height", "h", "width", "w") // long forms of keys that are named short
	for word, c := range words {
		if !strings.Contains(pages, "`"+word+"`") && !strings.Contains(pages, "`"+word+" ") {
			t.Errorf("the reference does not name %s", word)
		}
		for _, key := range strings.Fields(c.keys) {
			if !strings.Contains(pages, key) && !strings.Contains(pages, "`"+same.Replace(key)+"`") {
				t.Errorf("the reference does not name the key %s of %s", key, word)
			}
		}
	}
}
