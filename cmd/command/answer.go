package command

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"runnel/analysis/roof"
	"runnel/export/papers"
	"runnel/export/text"
)

// answerRun is one call of "runnel answer".
type answerRun struct {
	correct
	said []string
}

func newAnswer(s Streams) *cobra.Command {
	r := &answerRun{correct: correct{Streams: s}}
	c := &cobra.Command{
		Use:   "answer FILE...",
		Short: "Write an engineer's answers into the roof's file, or list what is asked",
		Long: `answer lists the numbered questions to the structural engineer, as papers asks them, with the answers that there
are. With --said it writes an answer into the file that holds the outline, with name and day, and the answer
counts from then on: a load is compared with, a deck that is sound is no reason to keep off, a cut that is
allowed waits no more. Only the answer that bears on a thing changes it, and nothing is certified by it. A later
answer to the same question takes the place of an earlier one, which stays in the file. Write what the engineer
sent: the number of the question, the answer, the name, the day; semicolons between where the answer has commas.`,
		Example: `  runnel answer roof.geojson
  runnel answer roof.geojson --said "Q3: 30 psf, A. Person, PE, 2026-12-02"`,
		Args: arguments(0, "give the files of one roof"),
		RunE: func(_ *cobra.Command, args []string) error { return r.run(args) },
	}
	registerInput(c, &r.input)
	r.designs(c)
	c.Flags().StringArrayVar(&r.said, "said", nil, "`ANSWER` as the engineer sent it: \"Q3: 30 psf, A. Person, PE, 2026-12-02\"; may be repeated")
	r.output.command = c
	return c
}

func (r *answerRun) run(paths []string) error {
	r.byTape = true
	p, _, err := r.propose(paths)
	if err != nil {
		return err
	}
	var of *roof.Roof
	var questions []papers.Question
	if r.taped != nil {
		of, questions = r.taped.Survey.Roof, papers.TapeQuestions(r.taped)
	} else {
		of, questions = p.Book.Study.Roof, papers.Questions(p)
	}
	if len(r.said) == 0 {
		return r.list(of, questions)
	}
	var answers []roof.Answer
	var asked []*papers.Question
	for _, said := range r.said {
		a, q, err := understood(said, questions)
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
		note(r.Err, fmt.Sprintf("Q%d. %s", asked[i].Number, asked[i].Text))
		note(r.Err, fmt.Sprintf("answered in %s: %s. %s, %s", path, answers[i].Text, answers[i].By, answers[i].On))
	}
	return nil
}

// list prints the questions.
func (r *answerRun) list(of *roof.Roof, questions []papers.Question) error {
	l := text.NewLines()
	l.Title("Questions to the structural engineer: " + of.Name)
	for i := range questions {
		q := &questions[i]
		say := "not answered; " + q.Asked.Form()
		if a := q.Answer; a != nil {
			say = "answered: " + a.Text + ". " + a.By + ", " + a.On
		}
		l.Entry(fmt.Sprintf("Q%d", q.Number), q.Text+" ("+say+")")
	}
	_, err := r.Out.Write(l.Bytes())
	return err
}

var saidForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*[Qq]?\s*(\d{1,4})\s*[:.]\s*(.+)$`) })

// understood reads an answer as it was sent, and finds its question.
func understood(said string, questions []papers.Question) (*roof.Answer, *papers.Question, error) {
	const form = `write it like "Q3: 30 psf, A. Person, PE, 2026-12-02"`
	m := saidForm().FindStringSubmatch(said)
	if m == nil {
		return nil, nil, usage("--said %.60q: it does not begin with the number of a question; %s", said, form)
	}
	number, _ := strconv.Atoi(m[1]) // four digits at most
	i := slices.IndexFunc(questions, func(q papers.Question) bool { return q.Number == number })
	if i < 0 {
		return nil, nil, usage("--said %.60q: there is no question %d; without --said they are listed", said, number)
	}
	q := &questions[i]
	sep := ","
	if strings.Contains(m[2], ";") {
		sep = ";"
	}
	parts := strings.Split(m[2], sep)
	if len(parts) < 3 {
		return nil, nil, usage("--said %.60q: answer, name and day are not all there; %s", said, form)
	}
	a := &roof.Answer{
		Question: q.Key(), Text: parts[0], By: strings.TrimSpace(strings.Join(parts[1:len(parts)-1], sep)), On: parts[len(parts)-1],
		Plan: q.At, Placed: q.Asked.Placed(), Number: q.Number,
	}
	if rule, mend := a.Settle(); rule != "" {
		return nil, nil, usage("--said %.60q: %s; %s", said, rule, mend)
	}
	return a, q, nil
}
