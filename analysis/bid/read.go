package bid

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"runnel/analysis/textfile"
)

// Columns before those of the bids, and the rows below those of the items.
const (
	ItemColumn   = "item"
	WhatColumn   = "what"
	AmountColumn = "amount"
	AllowColumn  = "allow"
	TotalRow     = "total"
	LeftOutRow   = "left out"
)

// Limits of a sheet: more is no table of bids.
const (
	mostRows  = 1000
	mostBids  = 40
	mostBytes = 1 << 20
)

// Fault says where a sheet is wrong, and what to write.
type Fault struct {
	Row, Column int // from 1; 0: the whole file
	Rule, Mend  string
}

func (f *Fault) Error() string {
	switch {
	case f.Row == 0:
		return f.Rule + "; " + f.Mend
	case f.Column == 0:
		return fmt.Sprintf("row %d: %s; %s", f.Row, f.Rule, f.Mend)
	}
	return fmt.Sprintf("row %d, column %d: %s; %s", f.Row, f.Column, f.Rule, f.Mend)
}

// Read reads a sheet that was filled in: CSV with commas, semicolons or tabs, as a spreadsheet saves it. A cell holds a price, "included", or nothing, "-", "no" or "excluded" for what a bid leaves
// out. The error is a *Fault.
func Read(data []byte) (*Sheet, error) {
	if len(data) > mostBytes {
		return nil, &Fault{Rule: "the file is over 1 MB", Mend: "name the table of bids that papers wrote, filled in"}
	}
	if rule, mend := textfile.NotText(data); rule != "" {
		return nil, &Fault{Rule: rule, Mend: mend}
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	rows, err := records(data)
	if err != nil {
		return nil, err
	}
	r := &reader{rows: rows}
	if err := r.heads(); err != nil {
		return nil, err
	}
	for i := range rows[1:] {
		if err := r.row(i + 1); err != nil {
			return nil, err
		}
	}
	if len(r.sheet.Items) == 0 {
		return nil, &Fault{Rule: "the table has no items", Mend: "name the table of bids that papers wrote, filled in"}
	}
	return &r.sheet, r.used()
}

// records splits the file, by the separator that its first row has most of.
func records(data []byte) ([][]string, error) {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	c := csv.NewReader(bytes.NewReader(data))
	c.FieldsPerRecord = -1
	for _, sep := range []rune{';', '\t'} {
		if bytes.Count(first, []byte(string(sep))) > bytes.Count(first, []byte(string(c.Comma))) {
			c.Comma = sep
		}
	}
	var out [][]string
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return nil, &Fault{Row: broken.Line, Column: broken.Column, Rule: "the quotes do not close", Mend: `write a quote within a quoted cell twice: 10' 4""`}
		}
		if out = append(out, row); len(out) > mostRows {
			return nil, &Fault{Rule: fmt.Sprintf("the table has over %d rows", mostRows), Mend: "name the table of bids that papers wrote, filled in"}
		}
	}
	if len(out) == 0 {
		return nil, &Fault{Rule: "the file is empty", Mend: "name the table of bids that papers wrote, filled in"}
	}
	return out, nil
}

type reader struct {
	rows                      [][]string
	item, what, amount, allow int
	bids                      []int // their columns
	sheet                     Sheet
}

// heads finds the columns.
func (r *reader) heads() error {
	r.item, r.what, r.amount, r.allow = -1, -1, -1, -1
	for i, head := range r.rows[0] {
		name := strings.TrimSpace(head)
		switch strings.ToLower(name) {
		case ItemColumn:
			r.item = i
		case WhatColumn:
			r.what = i
		case AmountColumn:
			r.amount = i
		case AllowColumn:
			r.allow = i
		case "":
		default:
			r.bids = append(r.bids, i)
			if slices.ContainsFunc(r.sheet.Bids, func(b Bid) bool { return strings.EqualFold(b.Name, name) }) {
				return &Fault{Row: 1, Column: i + 1, Rule: fmt.Sprintf("two bids are called %.40q", name), Mend: "give each bidder a name of its own"}
			}
			r.sheet.Bids = append(r.sheet.Bids, Bid{Name: strings.TrimPrefix(name, "'")})
		}
	}
	switch {
	case r.item < 0 || r.what < 0 || r.amount < 0:
		return &Fault{Row: 1, Rule: "no columns called item, what and amount", Mend: "leave the first row of the table that papers wrote, and write bidders' names over bid A, bid B"}
	case len(r.bids) == 0:
		return &Fault{Row: 1, Rule: "no column for a bid", Mend: "add a column for each, headed by the bidder's name"}
	case len(r.bids) > mostBids:
		return &Fault{Row: 1, Rule: fmt.Sprintf("%d bids", len(r.bids)), Mend: fmt.Sprintf("compare %d at most", mostBids)}
	}
	return nil
}

// cell returns a cell of a row, empty where the row is short.
func (r *reader) cell(row, column int) string {
	if column < 0 || column >= len(r.rows[row]) {
		return ""
	}
	return strings.TrimSpace(r.rows[row][column])
}

func (r *reader) row(i int) error {
	switch name := strings.ToLower(r.cell(i, r.item)); {
	case name == LeftOutRow:
		for k, column := range r.bids {
			r.sheet.Bids[k].LeftOut = r.cell(i, column)
		}
		return nil
	case name == TotalRow:
		for k, column := range r.bids {
			p, err := r.price(k, i, column)
			if err != nil {
				return err
			}
			r.sheet.Bids[k].Total = p
		}
		return nil
	case name == "" && r.cell(i, r.what) == "":
		return nil
	}
	item := Item{What: r.cell(i, r.what), Amount: r.cell(i, r.amount)}
	if text := r.cell(i, r.allow); text != "" {
		v, _, ok := number(text)
		if !ok || item.Amount != "" {
			return &Fault{Row: i + 1, Column: r.allow + 1, Rule: fmt.Sprintf("%.40q is no allowance", text), Mend: "write how many units are counted, beside unit prices alone"}
		}
		item.Allow = v
	}
	for k, column := range r.bids {
		p, err := r.price(k, i, column)
		if err != nil {
			return err
		}
		r.sheet.Bids[k].Prices = append(r.sheet.Bids[k].Prices, p)
	}
	r.sheet.Items = append(r.sheet.Items, item)
	return nil
}

// Words that say that an item has no price, or that its price is in another's.
var (
	outWords      = []string{"", "-", "–", "—", "no", "none", "n/a", "na", "excluded", "excl", "excl.", "not included", "left out"}
	includedWords = []string{"included", "incl", "incl.", "inc", "inc.", "inkl", "inkl."}
)

// price reads a cell of a bid.
func (r *reader) price(bid, row, column int) (Price, error) {
	text := r.cell(row, column)
	word := strings.ToLower(text)
	switch {
	case slices.Contains(outWords, word):
		return Price{}, nil
	case slices.Contains(includedWords, word):
		return Price{Kind: Included}, nil
	}
	v, currency, ok := number(text)
	if !ok {
		return Price{}, &Fault{Row: row + 1, Column: column + 1, Rule: fmt.Sprintf("%.40q is no price", text), Mend: `write a number such as 1250 or 1,250.00, "included", or leave the cell empty`}
	}
	if b := &r.sheet.Bids[bid]; currency != "" {
		if b.Currency != "" && b.Currency != currency {
			return Price{}, &Fault{Row: row + 1, Column: column + 1, Rule: fmt.Sprintf("%.10q beside %.10q in one bid", currency, b.Currency), Mend: "write all prices of a bid in one currency"}
		}
		b.Currency = currency
	}
	return Price{Priced, v}, nil
}

// number reads money: "1250", "1,250.00", "1.250,00 EUR", "$ 99.5". A point or comma before three digits stands between thousands, before one or two before the hundredths.
func number(text string) (v float64, currency string, ok bool) {
	digits := strings.TrimFunc(text, func(r rune) bool { return !unicode.IsDigit(r) })
	currency = strings.TrimSpace(strings.Replace(text, digits, "", 1))
	if digits == "" || !isCurrency(currency) {
		return 0, "", false
	}
	digits = strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", "'", "", "’", "").Replace(digits)
	whole, part := digits, ""
	if i := strings.LastIndexAny(digits, ".,"); i >= 0 && len(digits)-i-1 < 3 {
		whole, part = digits[:i], digits[i+1:]
	}
	for i, group := range strings.FieldsFunc(whole, func(r rune) bool { return r == '.' || r == ',' }) {
		if i > 0 && len(group) != 3 {
			return 0, "", false
		}
	}
	v, err := strconv.ParseFloat(strings.NewReplacer(".", "", ",", "").Replace(whole)+"."+part+"0", 64)
	return v, currency, err == nil && v < 1e12
}

// isCurrency reports whether a text is the sign or the code of a currency, or nothing.
func isCurrency(text string) bool {
	runes := []rune(text)
	switch len(runes) {
	case 0:
		return true
	case 1:
		return unicode.Is(unicode.Sc, runes[0])
	case 3:
		return !slices.ContainsFunc(runes, func(r rune) bool { return !unicode.IsLetter(r) })
	}
	return false
}

// used leaves out columns of bids in which nothing stands, and refuses a table without a price.
func (r *reader) used() error {
	r.sheet.Bids = slices.DeleteFunc(r.sheet.Bids, func(b Bid) bool {
		return b.LeftOut == "" && b.Total.Kind != Priced && !slices.ContainsFunc(b.Prices, func(p Price) bool { return p.Kind != Out })
	})
	if len(r.sheet.Bids) == 0 {
		return &Fault{Rule: "no bid has a price", Mend: "fill in the table of bids that papers wrote, a column a bidder"}
	}
	return nil
}
