package papers

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"strings"
	"testing"

	"runnel/analysis/bid"
	"runnel/export/record"
)

// Money with commas between thousands, hundredths where there are any.
func TestMoney(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 7: "7", 999: "999", 1000: "1,000", 1234567: "1,234,567", 0.5: "0.50", 12.05: "12.05", 999.99: "999.99", 1290.5: "1,290.50", 1999.999: "2,000", 0.004: "0", 0.29: "0.29",
	} {
		if got := money(v); got != want {
			t.Errorf("%v is written %q, want %q", v, got, want)
		}
	}
}

// filled fills in the table that is written for bidders: each has a price for every item, the first item is left out by the second bid, the second item is in the price of others in
// the third; of the first unit price ten are counted.
func filled(t *testing.T, u record.Units) (*bid.Sheet, []bid.Item) {
	t.Helper()
	p := opening(t, u)
	var out bytes.Buffer
	if err := WriteBids(p, &out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	units := 0
	for i, row := range rows[1 : len(rows)-2] {
		copy(row[4:], []string{"100", "200.50", "1,000"})
		switch {
		case i == 0:
			row[5] = ""
		case i == 1:
			row[6] = "included"
		case row[2] == "":
			if units++; units == 1 {
				row[3] = "10"
			}
			if units == 2 {
				row[4] = "-"
			}
		}
	}
	n := len(rows)
	rows[n-2][4], rows[n-2][6] = "2,000", "900"
	rows[n-1][5] = "scaffold."
	var back bytes.Buffer
	if err := csv.NewWriter(&back).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	s, err := bid.Read(back.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return s, scope(p)
}

// By hand from what was filled in, for n items of which six are unit prices, and k = n - 6 amounts: A has 100 for each amount and ten times 100, B 200.50 for each but the first and
// 2,005, C 1,000 for each but the second and 10,000. Every bid prices the amounts from the third on and the first unit price.
func TestBidsSideBySide(t *testing.T) {
	s, items := filled(t, record.SI)
	k := len(items) - 6
	if k < 2 {
		t.Fatalf("%d amounts", k)
	}
	c := &bids{bid.Compare(s, items)}
	rows := c.table().Rows
	if len(rows) != len(items)+4 {
		t.Fatalf("%d rows for %d items", len(rows), len(items))
	}
	for i, want := range map[int][]string{0: {"1", "100", "none", "1,000"}, 1: {"2", "100", "200.50", "included"}} {
		if row := rows[i]; !reflect.DeepEqual([]string{row[0], row[3], row[4], row[5]}, want) || row[2] != items[i].Amount {
			t.Errorf("%q, want %q", row, want)
		}
	}
	if row := rows[k]; row[2] != "times 10" || row[3] != "100" {
		t.Errorf("unit price that is counted: %q", row)
	}
	if row := rows[k+1]; row[2] != "not counted" || row[3] != "none" {
		t.Errorf("unit price that is not counted: %q", row)
	}
	sum := func(each, n, unit float64) string { return money(each*n + unit) }
	fk := float64(k)
	for i, want := range [][]string{
		{"Sum", "", sum(100, fk, 1000), sum(200.5, fk-1, 2005), sum(1000, fk-1, 10000)},
		{"Items that the sum lacks", "", "none", "1", "none"},
		{"Sum of the items that every bid prices", "", sum(100, fk-2, 1000), sum(200.5, fk-2, 2005), sum(1000, fk-2, 10000)},
		{"Total as the bidder wrote it", "", "2,000", "-", "900"},
	} {
		row := rows[len(items)+i]
		if i == 2 {
			want[1] = record.Count(fk-2+1) + " of " + record.Count(fk+1) // of the amounts and the unit price that counts
		}
		if !reflect.DeepEqual(row[1:], want) {
			t.Errorf("%q, want %q", row[1:], want)
		}
	}
	for i := range s.Bids {
		if !c.table().Columns[3+i].Right {
			t.Error("prices do not stand under each other")
		}
	}
	out := c.leftOut()
	unit := func(n int) string { return record.Count(float64(k + n)) }
	for i, want := range []string{
		"bid A: no unit price for item " + unit(2) + ": what is found there is not agreed.",
		"bid B: no price for item 1, which its sum lacks; says that it leaves out: scaffold.",
		"bid C: nothing that is listed.",
	} {
		if out[i] != want {
			t.Errorf("%q, want %q", out[i], want)
		}
	}
	apart := strings.Join(c.apart(), "\n")
	off := 2000 - 100*fk - 1000
	side := "more"
	if off < 0 {
		off, side = -off, "less"
	}
	for _, want := range []string{
		"bid A wrote a total that is " + money(off) + " " + side + " than its prices add up to: ask which holds.",
		"bid C has item 2 in the price of others: it compares as a whole,",
		"bid C wrote a total that is " + money(1000*(fk-1)+10000-900) + " less than",
		"Sums of bids that leave something out do not compare",
		"No amount is allowed of the unit price of items " + unit(2) + ", " + unit(3) + ", " + unit(4) + ", " + unit(5) + " and " + unit(6) + ": it counts in no sum",
	} {
		if !strings.Contains(apart, want) {
			t.Errorf("%q is not said in\n%s", want, apart)
		}
	}
	if strings.Contains(apart, "currency") || strings.Contains(apart, "bid B has") || len(c.apart()) != 5 {
		t.Error(apart)
	}
	a := Bids(opening(t, record.SI), s)
	if pages := a.pages(); a.Name != "bids" || a.To != "the owner" || len(pages) == 0 || a.Parts[0].Texts[0] != "3 bids on "+record.Count(float64(len(items)))+" items." {
		t.Errorf("%s to %s: %v", a.Name, a.To, a.Parts[0].Texts)
	}
}

// Bids on yesterday's scope are told so first; bids in two currencies do not compare at all; where nothing speaks against it, that is said.
func TestBidsThatDoNotCompare(t *testing.T) {
	read := func(text string) *bid.Sheet {
		s, err := bid.Read([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	items := []bid.Item{{What: "cut", Amount: "4 m"}, {What: "lay", Amount: "9 m2"}}
	s := read("item,what,amount,Alder,Birch\n1,cut,4 m,$ 5,6 EUR\n2,lay,9 m2,$ 7,8 EUR\n")
	c := &bids{bid.Compare(s, items)}
	if got := c.apart(); len(got) != 1 || got[0] != "The bids are not in one currency: none of their sums compare." {
		t.Errorf("%q", got)
	}
	if heads := c.table().Columns; heads[3].Head != "Alder ($)" || heads[4].Head != "Birch (EUR)" {
		t.Errorf("%+v", heads)
	}
	s = read("item,what,amount,Alder,Birch\n1,cut,4 m,5,6\n2,lay,9 m2,7,8\n")
	c = &bids{bid.Compare(s, items)}
	if got := c.apart(); len(got) != 1 || got[0] != "Nothing: every bid prices every item, in one currency." {
		t.Errorf("%q", got)
	}
	if got := c.lead(); len(got) != 1 || got[0] != "2 bids on 2 items." || c.table().Columns[3].Head != "Alder" {
		t.Errorf("%q", got)
	}
	items[1].Amount = "10 m2"
	c = &bids{bid.Compare(s, items)}
	if got := c.lead(); len(got) != 2 || !strings.HasPrefix(got[0], "These bids were made on another scope: item 2 is not what the roof asks for today.") {
		t.Errorf("%q", got)
	}
	c = &bids{bid.Compare(s, append(items, bid.Item{What: "more"}))}
	if got := c.lead(); !strings.HasPrefix(got[0], "These bids were made on another scope: items 2 and 3 are not") {
		t.Errorf("%q", got)
	}
}
