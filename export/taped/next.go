package taped

import (
	"cmp"
	"encoding/csv"
	"io"
	"slices"
	"strconv"

	"runnel/analysis/choose"
	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/tape"
	"runnel/export/cell"
)

// Place writes where a spot is, as a point file has it.
func (b *Book) Place(n *tape.Spot) string {
	switch {
	case n.From != "" && n.Toward != "":
		return b.taped(n.Distance) + " from " + n.From + " toward " + n.Toward
	case n.From != "":
		return n.From
	}
	a, c, ok := b.gridWalls(n)
	if !ok {
		return ""
	}
	if c.In[0]*c.In[0] > a.In[0]*a.In[0] {
		a, c = c, a
	}
	return b.taped(a.Distance(n.Plan)) + " from " + b.wall(a) + " and " + b.taped(c.Distance(n.Plan)) + " from " + b.wall(c)
}

// gridWalls returns the walls that a spot is taped from: of a grid always the west and the south one, where there is one of each, so that the
// tapes stay put; else the nearest.
func (b *Book) gridWalls(n *tape.Spot) (a, c *offset.Wall, ok bool) {
	west, south := offset.Facing(b.Survey.Walls, 6), offset.Facing(b.Survey.Walls, 4)
	if n.Code == "SPOT" && len(west) == 1 && len(south) == 1 {
		return &west[0], &south[0], true
	}
	return offset.Nearest(b.Survey.Walls, n.Plan)
}

var short = [8]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

func (b *Book) wall(w *offset.Wall) string {
	if len(offset.Facing(b.Survey.Walls, w.Faces)) == 1 {
		return short[w.Faces] + " wall"
	}
	return "wall " + strconv.Itoa(w.Number)
}

// taped writes a distance as a tape gives it, to the inch or the centimetre, without a sign that a table would have to put in quotes.
func (b *Book) taped(metres float64) string {
	if !b.Survey.Roof.Imperial {
		return strconv.FormatFloat(metres, 'f', 2, 64) + " m"
	}
	inches := int(metres/float64(quantity.Inch) + 0.5)
	if inches%12 == 0 {
		return strconv.Itoa(inches/12) + " ft"
	}
	return strconv.Itoa(inches/12) + " ft " + strconv.Itoa(inches%12) + " in"
}

// WriteNext writes the spots to read next as a point file without heights: filled in, it is read beside the file that it came from.
func WriteNext(w io.Writer, b *Book) error {
	out := csv.NewWriter(w)
	out.Comma = ';'
	unit := choose.If(b.Survey.Roof.Imperial, "ft", "m")
	rows := [][]string{{"point", "place", "rod_" + unit, "code", "for"}}
	for i := range b.Survey.Next {
		n := &b.Survey.Next[i]
		rows = append(rows, []string{"X" + strconv.Itoa(i+1), cell.Text(b.Place(n)), "", cell.Text(n.Code), cell.Text(b.Units.SayText(n.For))})
	}
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}

// mostGridColumns is how many columns of a grid a page takes.
const mostGridColumns = 14

// GridTable returns the grid of spots to read next as a table to write into, as it lies on the roof: heads with the distance from the west wall, rows with that from the south wall, the northernmost first.
// ok is false where the next spots are no grid, or one of more columns than a page takes, or walls to tape it from are not one each.
func (b *Book) GridTable() (heads []string, rows [][]string, ok bool) {
	west, south := offset.Facing(b.Survey.Walls, 6), offset.Facing(b.Survey.Walls, 4)
	if !b.Survey.Grid() || len(west) != 1 || len(south) != 1 {
		return nil, nil, false
	}
	var xs, ys []string
	at := map[[2]string]string{}
	for i := range b.Survey.Next {
		n := &b.Survey.Next[i]
		x, y := b.taped(west[0].Distance(n.Plan)), b.taped(south[0].Distance(n.Plan))
		if !slices.Contains(ys, y) {
			ys = append(ys, y)
		}
		if !slices.Contains(xs, x) {
			xs = append(xs, x)
		}
		at[[2]string{x, y}] = "X" + strconv.Itoa(i+1)
	}
	if len(xs) > mostGridColumns {
		return nil, nil, false
	}
	slices.SortFunc(xs, func(p, q string) int { return cmp.Compare(b.distance(p), b.distance(q)) })
	slices.Reverse(ys)
	heads = append([]string{"from " + b.wall(&south[0])}, xs...)
	for _, y := range ys {
		row := []string{y}
		for _, x := range xs {
			if id, there := at[[2]string{x, y}]; there {
				row = append(row, id+" ______")
			} else {
				row = append(row, "-")
			}
		}
		rows = append(rows, row)
	}
	return heads, rows, true
}

// distance reads what taped wrote.
func (b *Book) distance(text string) quantity.Length {
	d, err := quantity.ParseLength(text, quantity.Unstated)
	return choose.If(err != nil, 0, d)
}
