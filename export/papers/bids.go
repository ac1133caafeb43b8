package papers

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"runnel/analysis/bid"
	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/export/cell"
	proposal "runnel/export/correction"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
)

// scope returns what is bid on: the quantities, then unit prices for what nobody can see yet.
func scope(p *proposal.Proposal) []bid.Item {
	w := &writer{p}
	return gather.Each(w.items(), func(item [2]string) bid.Item { return bid.Item{What: item[0], Amount: item[1]} })
}

// WriteBids writes the table that is filled in with bids on one scope: a row an item, a column a bidder; how many units of each unit price are counted; the total as the bidder wrote it, and what he
// says is not included.
func WriteBids(p *proposal.Proposal, out io.Writer) error {
	rows := csv.NewWriter(out)
	all := [][]string{{bid.ItemColumn, bid.WhatColumn, bid.AmountColumn, bid.AllowColumn, "bid A", "bid B", "bid C"}}
	for i, item := range scope(p) {
		all = append(all, []string{strconv.Itoa(i + 1), cell.Text(item.What), item.Amount, "", "", "", ""})
	}
	all = append(all,
		[]string{bid.TotalRow, "total as the bidder wrote it", "", "", "", "", ""},
		[]string{bid.LeftOutRow, "what the bidder says is not included", "", "", "", "", ""},
	)
	return rows.WriteAll(all)
}

// Bids is the paper that sets bids side by side. It recommends nobody.
func Bids(p *proposal.Proposal, s *bid.Sheet) *Paper {
	w := &writer{p}
	c := &bids{bid.Compare(s, scope(p))}
	a := &Paper{Name: "bids", Title: "Comparison of bids", To: "the owner", roof: w.Book.Study.Roof, units: w.Book.Units}
	a.picture = func(float64, float64) *scene.Scene { return nil } // which it has not
	a.Parts = []Part{
		{Heading: "The bids, in the order in which they were written down", Texts: c.lead(), Table: c.table()},
		{Heading: "What each bid leaves out", Texts: c.leftOut()},
		{Heading: "What does not compare", Texts: c.apart()},
		{Texts: []string{"These are sums of what was bid. They recommend nobody: what a bidder knows of such work, who insures it, whom the warrantor accepts and when he can begin is not in them."}},
	}
	return a
}

// bids writes a comparison.
type bids struct{ *bid.Comparison }

// lead says first where the scope is not that of today.
func (c *bids) lead() []string {
	out := []string{fmt.Sprintf("%s on %s.", record.Plural(len(c.Bids), "bid"), record.Plural(len(c.Items), "item"))}
	if len(c.Changed) > 0 {
		out = append([]string{"These bids were made on another scope: " + numbered(c.Changed) + " not what the roof asks for today. Ask for new bids before you compare."}, out...)
	}
	return out
}

// numbered says items by number, with their verb.
func numbered(items []int) string {
	return itemsOf(items) + choose.If(len(items) == 1, " is", " are")
}

func itemsOf(items []int) string {
	return choose.If(len(items) == 1, "item ", "items ") + numbersOf(items)
}

func numbersOf(items []int) string {
	all := gather.Each(items, func(k int) string { return strconv.Itoa(k + 1) })
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, ", ")
}

func (c *bids) table() *page.Table {
	heads := []string{"", "what", "amount"}
	for i := range c.Bids {
		if b := &c.Bids[i]; b.Currency != "" {
			heads = append(heads, b.Name+" ("+b.Currency+")")
		} else {
			heads = append(heads, b.Name)
		}
	}
	t := table(heads, nil)
	for i := range c.Bids {
		t.Columns[3+i].Right = true
	}
	for i := range c.Items {
		item := &c.Items[i]
		amount := item.Amount
		if item.Unit() {
			amount = choose.If(item.Allow > 0, "times "+strconv.FormatFloat(item.Allow, 'f', -1, 64), "not counted")
		}
		row := []string{strconv.Itoa(i + 1), item.What, amount}
		for k := range c.Bids {
			row = append(row, said(c.Bids[k].Prices[i]))
		}
		t.Rows = append(t.Rows, row)
	}
	sum, lacks, alike, total := []string{"", "Sum", ""}, []string{"", "Items that the sum lacks", ""}, []string{"", "Sum of the items that every bid prices", fmt.Sprintf("%d of %d", len(c.Alike), len(c.Items)-len(c.Unallowed))}, []string{"", "Total as the bidder wrote it", ""}
	for k := range c.Sums {
		s := &c.Sums[k]
		sum, alike = append(sum, money(s.Sum)), append(alike, money(s.Alike))
		missing := "none"
		if len(s.LeftOut) > 0 {
			missing = numbersOf(s.LeftOut)
		}
		lacks = append(lacks, missing)
		written := "-"
		if s.HasTotal {
			written = money(c.Bids[k].Total.Value)
		}
		total = append(total, written)
	}
	t.Rows = append(t.Rows, sum, lacks, alike, total)
	return t
}

// said writes a cell of a bid.
func said(p bid.Price) string {
	switch p.Kind {
	case bid.Priced:
		return money(p.Value)
	case bid.Included:
		return "included"
	case bid.Out:
	}
	return "none"
}

// money writes an amount of nought or more with commas between the thousands, and hundredths where there are any.
func money(v float64) string {
	hundredths := math.Round(v * 100)
	whole := math.Floor(hundredths / 100)
	if part := hundredths - 100*whole; part > 0 {
		return fmt.Sprintf("%s.%02.0f", record.Count(whole), part)
	}
	return record.Count(whole)
}

func (c *bids) leftOut() []string {
	var out []string
	for k := range c.Bids {
		s := &c.Sums[k]
		var parts []string
		if len(s.LeftOut) > 0 {
			parts = append(parts, "no price for "+itemsOf(s.LeftOut)+", which its sum lacks")
		}
		if len(s.NoUnit) > 0 {
			parts = append(parts, "no unit price for "+itemsOf(s.NoUnit)+": what is found there is not agreed")
		}
		if text := c.Bids[k].LeftOut; text != "" {
			parts = append(parts, "says that it leaves out: "+strings.TrimSuffix(text, "."))
		}
		if len(parts) == 0 {
			parts = []string{"nothing that is listed"}
		}
		out = append(out, c.Bids[k].Name+": "+strings.Join(parts, "; ")+".")
	}
	return out
}

// apart says what of the sums does not compare.
func (c *bids) apart() []string {
	var out []string
	if c.Currencies {
		out = append(out, "The bids are not in one currency: none of their sums compare.")
	}
	short := false
	for k := range c.Sums {
		s := &c.Sums[k]
		short = short || len(s.LeftOut) > 0
		name := c.Bids[k].Name
		if len(s.Included) > 0 {
			out = append(out, name+" has "+itemsOf(s.Included)+" in the price of others: it compares as a whole, not item by item, and not in the sum of the items that every bid prices.")
		}
		if s.HasTotal && s.Off != 0 {
			side := choose.If(s.Off < 0, "less", "more")
			out = append(out, name+" wrote a total that is "+money(math.Abs(s.Off))+" "+side+" than its prices add up to: ask which holds.")
		}
	}
	if short {
		out = append(out, "Sums of bids that leave something out do not compare with those of others. The sum of the items that every bid prices does, for these items alone.")
	}
	if len(c.Unallowed) > 0 {
		out = append(out, "No amount is allowed of the unit price of "+itemsOf(c.Unallowed)+": it counts in no sum, though what is found will be paid by it. Write an amount into the column allow.")
	}
	if len(out) == 0 {
		return []string{"Nothing: every bid prices every item, in one currency."}
	}
	return out
}
