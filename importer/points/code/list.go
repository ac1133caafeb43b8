package code

import (
	"fmt"
	"strings"

	"runnel/analysis/roof"
	"runnel/analysis/textfile"
	"runnel/importer/draft"
	"runnel/importer/points/separated"
)

// List maps an office's codes, in upper case, to codes of this package.
type List map[string]string

// ParseList reads rows of an office's code and the code that it stands for: "RD,DRAIN d=4in". A first
// row such as "code,role" or "their code,our role" is a header. Problems are added to problems.
func ParseList(name string, data []byte, problems *roof.Refusal) List {
	list := List{}
	r := listReader{name: name, list: list}
	defer r.finish(problems)
	if rule, mend := textfile.NotText(data); rule != "" {
		problems.Add(roof.Problem{Origin: roof.Origin{File: name}, Rule: rule, Mend: mend})
		return list
	}
	text, _ := draft.Decode(data)
	sep := byte(0)
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = strings.Cut(text, "\n")
		row = strings.TrimSpace(row)
		if row == "" || row[0] == '#' {
			continue
		}
		if sep == 0 {
			sep = separated.Guess(row)
		}
		fields, err := separated.Split(nil, row, sep, 2)
		if err != nil || len(fields) < 2 || fields[0] == "" {
			r.wrong(line, "the row is not a code and what it stands for", "write it like RD,DRAIN d=4in")
			continue
		}
		if len(list) == 0 && isListHeader(fields) {
			continue
		}
		if c := Parse(fields[1]); c.Unknown != "" || c.Bad != "" {
			r.wrong(line, fmt.Sprintf("%.20q stands for %.20q, which is no known code", fields[0], fields[1]), "use "+wordList())
			continue
		}
		theirs := strings.ToUpper(fields[0])
		if before, twice := list[theirs]; twice && before != fields[1] {
			r.wrong(line, fmt.Sprintf("%.20q stands already in the list for another code", fields[0]), "leave one of the two out")
			continue
		}
		list[theirs] = fields[1]
	}
	return list
}

// listReader collects the rows of a list that cannot be used.
type listReader struct {
	name  string
	list  List
	found []roof.Problem
}

func (r *listReader) wrong(line int, rule, mend string) {
	r.found = append(r.found, roof.Problem{Origin: roof.Origin{File: r.name, Line: line}, Rule: rule, Mend: mend})
}

// finish adds what was wrong to problems. A file of several rows of which none is one of a list is another file: it is not
// quoted.
func (r *listReader) finish(problems *roof.Refusal) {
	if len(r.found) > 1 && len(r.list) == 0 {
		problems.Add(roof.Problem{
			Origin: roof.Origin{File: r.name, Line: r.found[0].Origin.Line},
			Rule:   "this is no list of codes", Mend: "name a file with rows like RD,DRAIN d=4in",
		})
		return
	}
	for _, p := range r.found {
		problems.Add(p)
	}
}

// isListHeader reports whether the first row of a code list names its columns.
func isListHeader(fields []string) bool {
	theirs, ours := strings.ToLower(fields[0]), strings.ToLower(fields[1])
	if theirs == "code" {
		return true
	}
	return Parse(fields[1]).Unknown != "" && (strings.Contains(theirs, "code") || strings.Contains(ours, "role"))
}

// wordList lists the words of codes in the order of their roles.
func wordList() string {
	list := make([]string, roles)
	for word, entry := range words {
		list[entry.role] = word
	}
	return strings.Join(list, ", ")
}

// Translate returns the code that text stands for: its whole, or its first word with what follows kept.
func (l List) Translate(text string) string {
	if len(l) == 0 || text == "" {
		return text
	}
	if ours, ok := l[strings.ToUpper(text)]; ok {
		return ours
	}
	first, rest, _ := strings.Cut(text, " ")
	if ours, ok := l[strings.ToUpper(first)]; ok {
		return insert(ours, rest)
	}
	word, number := splitWord(first)
	if ours, ok := l[word]; ok && number != "" {
		return insert(ours, number+" "+rest)
	}
	return text
}

// insert puts rest after the first word of a code, before its keys.
func insert(code, rest string) string {
	word, keys, _ := strings.Cut(code, " ")
	return strings.Join(strings.Fields(word+" "+rest+" "+keys), " ")
}
