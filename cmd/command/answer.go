package command

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/cmd/call"
	"runnel/export/papers"
	"runnel/export/text"
)

// answerRun is one call of "runnel answer".
type answerRun struct {
	correct
	said []string
}

func newAnswer(s call.Streams) *cobra.Command {
	r := &answerRun{correct: correct{Streams: s}}
	c := &cobra.Command{
		Use:   "answer FILE...",
		Short: "Write what came back on papers into the roof's file, or list what is asked",
		Long: `answer lists the numbered questions to the structural engineer, the plumber, the energy authority, the building
official, the warrantor and the owner, as papers asks them, with the answers that there are. With --said it writes
an answer into the file that holds the outline, with name and day, and the answer counts from then on: a load is
compared with, a deck that is sound is no reason to keep off, an outlet that cannot be set down stays. Only the
answer that bears on a thing changes it, and nothing is certified by it. A later answer to the same question takes
the place of an earlier one, which stays in the file. Write what came back: who was asked (nothing for the
engineer), the number of the question, the answer, the name, the day; semicolons between where the answer has
commas.`,
		Example: `  runnel answer roof.geojson
  runnel answer roof.geojson --said "Q3: 30 psf, A. Person, PE, 2026-12-02"
  runnel answer roof.geojson --said "plumber Q1: no, B. Person, 2026-12-03" --said "owner Q1: yes, C. Person, 2026-12-04"`,
		Args: call.Arguments(1, 0, "give the files of one roof"),
		RunE: func(_ *cobra.Command, args []string) error { return r.run(args) },
	}
	call.RegisterInput(c, &r.input)
	r.designs(c)
	c.Flags().StringArrayVar(&r.said, "said", nil, "`ANSWER` as it came back: \"Q3: 30 psf, A. Person, PE, 2026-12-02\", or \"plumber Q1: no, ...\"; may be repeated")
	r.output.Command = c
	return c
}

func (r *answerRun) run(paths []string) error {
	r.byTape = true
	p, _, err := r.propose(paths)
	if err != nil {
		return err
	}
	var of *roof.Roof
	ask := func(to roof.Recipient) []papers.Question { return papers.Questions(p, to) }
	if r.taped != nil {
		of = r.taped.Survey.Roof
		ask = func(to roof.Recipient) []papers.Question {
			if to != roof.ToEngineer {
				return nil // what others are asked needs heights all over the roof
			}
			return papers.TapeQuestions(r.taped)
		}
	} else {
		of = p.Book.Study.Roof
	}
	if len(r.said) == 0 {
		return r.list(of, ask)
	}
	var answers []roof.Answer
	var asked []*papers.Question
	for _, said := range r.said {
		a, q, err := understood(said, ask)
		if err != nil {
			return err
		}
		answers, asked = append(answers, *a), append(asked, q)
	}
	path, err := writeAnswers(of, answers)
	if err != nil {
		return err
	}
	for i := range answers {
		call.Note(r.Err, fmt.Sprintf("To the %s: Q%d. %s", answers[i].To.Who(), asked[i].Number, asked[i].Text))
		call.Note(r.Err, fmt.Sprintf("answered in %s: %s. %s, %s", path, answers[i].Text, answers[i].By, answers[i].On))
	}
	return nil
}

// list prints the questions, by who is asked.
func (r *answerRun) list(of *roof.Roof, ask func(roof.Recipient) []papers.Question) error {
	l := text.NewLines()
	l.Title("What is asked: " + of.Name)
	for _, to := range roof.Recipients() {
		questions := ask(to)
		if len(questions) == 0 {
			continue
		}
		l.Heading(string(to))
		for i := range questions {
			q := &questions[i]
			say := "not answered; " + q.Asked.Form()
			if a := q.Answer; a != nil {
				say = "answered: " + strings.TrimSuffix(a.Text, ".") + ". " + a.By + ", " + a.On
			}
			l.Entry(fmt.Sprintf("Q%d", q.Number), q.Text+" ("+say+")")
		}
	}
	_, err := r.Out.Write(l.Bytes())
	return err
}

var saidForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*(?:([A-Za-z]+)\s+)?[Qq]?\s*(\d{1,4})\s*[:.]\s*(.+)$`)
})

// understood reads an answer as it was sent, and finds its question.
func understood(said string, ask func(roof.Recipient) []papers.Question) (*roof.Answer, *papers.Question, error) {
	const form = `write it like "Q3: 30 psf, A. Person, PE, 2026-12-02"`
	m := saidForm().FindStringSubmatch(said)
	if m == nil {
		return nil, nil, call.Usage("--said %.60q: it does not begin with the number of a question; %s", said, form)
	}
	to := roof.Recipient(strings.ToLower(m[1]))
	if to == "" || to == "q" {
		to = roof.ToEngineer
	}
	if !slices.Contains(roof.Recipients(), to) {
		return nil, nil, call.Usage("--said %.60q: nobody is asked by the name of %.20s; write engineer, plumber, energy, official, warrantor or owner before the number", said, m[1])
	}
	questions := ask(to)
	number, _ := strconv.Atoi(m[2]) // four digits at most
	i := slices.IndexFunc(questions, func(q papers.Question) bool { return q.Number == number })
	if i < 0 {
		return nil, nil, call.Usage("--said %.60q: the %s is asked no question %d; without --said all are listed", said, to.Who(), number)
	}
	q := &questions[i]
	sep := choose.If(strings.Contains(m[3], ";"), ";", ",")
	parts := strings.Split(m[3], sep)
	if len(parts) < 3 {
		return nil, nil, call.Usage("--said %.60q: answer, name and day are not all there; %s", said, form)
	}
	a := &roof.Answer{
		Question: q.Key(), Text: parts[0], By: strings.TrimSpace(strings.Join(parts[1:len(parts)-1], sep)), On: parts[len(parts)-1],
		Plan: q.At, Placed: q.Asked.Placed(), Number: q.Number, To: to, Covers: q.Covers,
	}
	if rule, mend := a.Settle(); rule != "" {
		return nil, nil, call.Usage("--said %.60q: %s; %s", said, rule, mend)
	}
	return a, q, nil
}
