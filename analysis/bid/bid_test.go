package bid_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/bid"
)

const filled = "item,what,amount,allow,Alder,Birch,Cedar\r\n" +
	"1,cut line,41.2 m,,\"1,650.00\",1800,included\r\n" +
	"2,membrane,26.2 m2,,4200,3950.50,6100\r\n" +
	"3,taken out,0.19 m3,,380,,included\r\n" +
	"4,outlets,1,,950,1100,990\r\n" +
	"5,\"Unit price: wet insulation, a square metre\",,20,65,72,80\r\n" +
	"6,\"Unit price: deck, a square metre\",,,120,-,140\r\n" +
	"total,total,,,8480,,9000\r\n" +
	"left out,what is not included,,,,scaffold,\r\n"

var scope = []bid.Item{
	{What: "cut line", Amount: "41.2 m"},
	{What: "membrane", Amount: "26.2 m2"},
	{What: "taken out", Amount: "0.19 m3"},
	{What: "outlets", Amount: "1"},
	{What: "Unit price: wet insulation, a square metre"},
	{What: "Unit price: deck, a square metre"},
}

// By hand. Alder: 1650 + 4200 + 380 + 950 + 20 x 65 = 8480. Birch: 1800 + 3950.50 + 1100 + 20 x 72 = 8290.50, without item 3. Cedar: 6100 + 990 + 20 x 80 = 8690. Items 2, 4 and 5 have a price
// in each: 6450, 6490.50, 8690. Item 6 counts nowhere.
func TestSumsOfBids(t *testing.T) {
	s, err := bid.Read([]byte("\ufeff" + filled))
	if err != nil {
		t.Fatal(err)
	}
	c := bid.Compare(s, scope)
	for k, want := range []struct {
		sum, alike, off          float64
		leftOut, included, wants []int
	}{
		{8480, 6450, 0, nil, nil, nil},
		{8290.50, 6490.50, 0, []int{2}, nil, []int{5}},
		{8690, 8690, 310, nil, []int{0, 2}, nil},
	} {
		got := &c.Sums[k]
		if got.Sum != want.sum || got.Alike != want.alike || got.Off != want.off || !slices.Equal(got.LeftOut, want.leftOut) || !slices.Equal(got.Included, want.included) || !slices.Equal(got.NoUnit, want.wants) {
			t.Errorf("%s: %+v, want %+v", s.Bids[k].Name, got, want)
		}
	}
	if !slices.Equal(c.Alike, []int{1, 3, 4}) || !slices.Equal(c.Unallowed, []int{5}) || len(c.Changed) > 0 || c.Currencies || s.Bids[1].LeftOut != "scaffold" {
		t.Errorf("%+v", c)
	}
	other := slices.Clone(scope)
	other[1].Amount = "86.4 m2"
	if c = bid.Compare(s, append(other, bid.Item{What: "more"})); !slices.Equal(c.Changed, []int{1, 6}) {
		t.Errorf("another scope: %v", c.Changed)
	}
}

// Money as people write it, by hand.
func TestMoney(t *testing.T) {
	for text, want := range map[string]float64{
		"1250": 1250, "1,250.00": 1250, "1.250,00": 1250, "1.250": 1250, "1,250": 1250, "12,5": 12.5, "99.5": 99.5, "$ 1,250.75": 1250.75, "1 250,75 €": 1250.75, "1'250.50": 1250.5, "1.234.567": 1234567, "0": 0,
	} {
		s, err := bid.Read([]byte("item;what;amount;Alder\n1;all;1;" + text + "\n"))
		if err != nil || s.Bids[0].Prices[0].Value != want || s.Bids[0].Prices[0].Kind != bid.Priced {
			t.Errorf("%s: %+v %v, want %v", text, s, err, want)
		}
	}
	if s, err := bid.Read([]byte("item;what;amount;Alder;Birch\n1;all;1;$5;5 EUR\n")); err != nil || !bid.Compare(s, nil).Currencies {
		t.Errorf("two currencies: %v", err)
	}
}

func TestRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":                                                 "the file is empty",
		"a,b\n1,2\n":                                       "no columns called item, what and amount",
		"item,what,amount\n1,all,1\n":                      "no column for a bid",
		"item,what,amount,A,a\n":                           "two bids are called",
		"item,what,amount,A\n":                             "the table has no items",
		"item,what,amount,A\n1,all,1,\n":                   "no bid has a price",
		"item,what,amount,A\n1,all,1,about 5\n":            "row 2, column 4: \"about 5\" is no price",
		"item,what,amount,A\n1,all,1,-5\n":                 "is no price",
		"item,what,amount,A\n1,all,1,\"1,25,0\"\n":         "is no price",
		"item,what,amount,A\n1,all,1,$5\n2,more,1,5 EUR\n": "in one bid",
		"item,what,amount,allow,A\n1,all,1,3,5\n":          "is no allowance",
		"item,what,amount,A\n1,\"all,1,5\n":                "the quotes do not close",
		"PK\x03\x04":                                       "a workbook",
	} {
		var fault *bid.Fault
		if _, err := bid.Read([]byte(text)); !errors.As(err, &fault) || !strings.Contains(err.Error(), want) || fault.Mend == "" {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// FuzzRead holds: what is read compares, and no sum is less than the prices that it holds.
func FuzzRead(f *testing.F) {
	f.Add([]byte(filled))
	f.Add([]byte("item;what;amount;Alder\n1;all;1;1.250,00 EUR\n"))
	f.Add([]byte("item\twhat\tamount\tA\n1\tall\t1\tincl\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := bid.Read(data)
		if err != nil {
			return
		}
		c := bid.Compare(s, nil)
		for k := range c.Sums {
			if len(s.Bids[k].Prices) != len(s.Items) || !(c.Sums[k].Sum >= c.Sums[k].Alike) && len(c.Alike) > 0 && c.Sums[k].Alike-c.Sums[k].Sum > 1 {
				t.Errorf("%+v", c.Sums[k])
			}
		}
	})
}
