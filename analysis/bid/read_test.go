package bid_test

import (
	"errors"
	"strings"
	"testing"

	"runnel/analysis/bid"
)

// Where a fault stands, counted by hand from 1 as a spreadsheet shows rows and columns; 0 where none is meant.
func TestFaultsSayWhere(t *testing.T) {
	const heads = "item,what,amount,allow,Alder,Birch\n"
	for text, want := range map[string][2]int{
		"":                             {0, 0},
		"PK\x03\x04":                   {0, 0},
		"what,amount,A\n":              {1, 0},
		"item,amount,A\n":              {1, 0},
		"item,what,A\n":                {1, 0},
		"item,what,amount\n":           {1, 0},
		"item,what,amount,A,B,a\n":     {1, 6},
		"A,item,what,amount,a\n":       {1, 5},
		heads + "1,all,1,,5,about 5\n": {2, 6},
		heads + "1,all,1,,5,6\n,,,,,\n2,more,,x,5,6\n": {4, 4},
		heads + "1,all,1,3,5,6\n":                      {2, 4},
		heads + "1,all,1,,$5,6\n2,more,1,,5 EUR,6\n":   {3, 5},
		heads + "1,all,1,,5,6\ntotal,total,,,5,many\n": {3, 6},
		heads: {0, 0},
		"item,what,amount" + strings.Repeat(",", 1) + names(41) + "\n": {1, 0},
	} {
		var fault *bid.Fault
		_, err := bid.Read([]byte(text))
		if !errors.As(err, &fault) || fault.Row != want[0] || fault.Column != want[1] {
			t.Errorf("%.80q: %v, want row %d, column %d", text, err, want[0], want[1])
		}
	}
	if _, err := bid.Read([]byte("item,what,amount," + names(40) + "\n1,all,1" + strings.Repeat(",7", 40) + "\n")); err != nil {
		t.Errorf("40 bids: %v", err)
	}
}

// names are n heads of bids.
func names(n int) string {
	var out []string
	for i := range n {
		out = append(out, "bid "+strings.Repeat("x", i))
	}
	return strings.Join(out, ",")
}

// What a sheet holds where it is short of cells, in any order of columns, or with nothing but one of what it may hold.
func TestOddSheets(t *testing.T) {
	for text, want := range map[string]struct {
		items, bids int
		value       float64
	}{
		"Alder,what,item,amount\n7,all,1,1\n":                      {1, 1, 7}, // the first column is a bid
		"amount,item,what,Alder\n1,1,all,8\n":                      {1, 1, 8}, // amounts first
		"what,amount,item,Alder\nall,1,1,9\n":                      {1, 1, 9}, // what first
		"item,what,amount,Alder,Birch\n1,all,1,5\n":                {1, 1, 5}, // Birch wrote nothing
		"item,what,amount,Alder,Birch\n1,all,1,5\nleft out,,,,x\n": {1, 2, 5}, // Birch says what is left out
		"item,what,amount,Alder,Birch\n1,all,1,5\ntotal,,,,6\n":    {1, 2, 5}, // Birch has a total alone
		"item,what,amount,Alder\n,all,1,5\n1,,1,6\n":               {2, 1, 5}, // a name or a number is enough
		"item;what;amount;A,B\n1;a,b,c;1;5\n":                      {1, 1, 5}, // more semicolons than commas
		"item;what;amount;A,B,C,D\n1;all;1;5\n":                    {0, 0, 0}, // as many commas: read by commas, without an item
		"item,what,amount,Alder\n1,all,1,.5\n":                     {0, 0, 0}, // a number begins with a digit
		"item,what,amount,Alder\n1,all,1,999999999999\n":           {1, 1, 1e12 - 1},
		"item,what,amount,Alder\n1,all,1,1000000000000\n":          {0, 0, 0}, // a million millions is no price
		"item,what,amount,Alder\n1,all,1,\"1,5 $\"\n":              {1, 1, 1.5},
		"item,what,amount,allow,Alder\n1,\"Unit price: a\",,1,5\n": {1, 1, 5},
	} {
		s, err := bid.Read([]byte(text))
		switch {
		case want.items == 0 && err == nil:
			t.Errorf("%q is read", text)
		case want.items == 0:
		case err != nil || len(s.Items) != want.items || len(s.Bids) != want.bids || s.Bids[0].Prices[0].Value != want.value:
			t.Errorf("%q: %+v, %v", text, s, err)
		}
	}
	// One of a thing whose unit price is asked counts once.
	s, err := bid.Read([]byte("item,what,amount,allow,Alder\n1,\"Unit price: a\",,1,5\n2,b,1,,2\n"))
	if err != nil {
		t.Fatal(err)
	}
	if c := bid.Compare(s, nil); c.Sums[0].Sum != 7 || c.Sums[0].Alike != 7 {
		t.Errorf("%+v", c.Sums[0])
	}
}

// A table of bids has 1,000 rows at most, its heads among them, and 1 MB: each last size is read, the next is refused with what to do.
func TestLimitsOfASheet(t *testing.T) {
	rows := func(n int) string {
		return "item,what,amount,Alder\n" + strings.Repeat("1,all,1,5\n", n-1)
	}
	wide := func(bytes int) string {
		text := "item,what,amount,Alder\n1,,1,5\n"
		return strings.Replace(text, ",,", ","+strings.Repeat("x", bytes-len(text))+",", 1)
	}
	for _, c := range []struct {
		name, text, want string
	}{
		{"1,000 rows", rows(1000), ""},
		{"1,001 rows", rows(1001), "the table has over 1000 rows"},
		{"1 MB", wide(1 << 20), ""},
		{"a byte more", wide(1<<20 + 1), "the file is over 1 MB"},
	} {
		s, err := bid.Read([]byte(c.text))
		if c.want == "" && (err != nil || s.Bids[0].Prices[0].Value != 5) || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "name the table")) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// A fault of a cell names its row and its column, also the first; one of a row its row; one of the file neither.
func TestFaultsInWords(t *testing.T) {
	for want, f := range map[string]bid.Fault{
		"row 3, column 1: no price; write one": {Row: 3, Column: 1, Rule: "no price", Mend: "write one"},
		"row 1, column 7: no price; write one": {Row: 1, Column: 7, Rule: "no price", Mend: "write one"},
		"row 1: no price; write one":           {Row: 1, Rule: "no price", Mend: "write one"},
		"no price; write one":                  {Rule: "no price", Mend: "write one"},
	} {
		if got := f.Error(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
