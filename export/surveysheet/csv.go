package surveysheet

import (
	"bufio"
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"runnel/analysis/roof"
)

// blank explains the file that goes with a blank sheet. Lines that begin with # are comments; check reads the file once some rows are filled in.
const blank = `# One row a reading, as on the survey sheet. Lines that begin with # are not read: take the # off and put your own numbers in.
# Walls are named as seen from the middle of the roof. A depth carries its unit. Rods are read from one set-up.
point;place;rod;depth;code
#;;;;OUTLINE rect=120x60ft edge=wall name="Shed"
#1;40' from W wall, 30' from S wall;;;DRAIN RD-1 d=4in
#2;E wall;;;GUTTER E-1
#3;120' from W wall, 20' from S wall;;;OVERFLOW OS-1 w=8in
#4;50' from W wall, 30' from S wall;;3/4in;POND 1 size=12x6ft hours=50
#5;RD-1;4' 3";;INLET RD-1
#6;1 ft from RD-1 toward P1;4' 3-1/2";;BEFORE RD-1
#7;2 ft from RD-1 toward P1;4' 3-3/4";;BEFORE RD-1
#8;4 ft from RD-1 toward P1;4' 4";;BEFORE RD-1
#9;50' from W wall, 30' from S wall;4' 4-1/4";;LOW 1
# What was noted on the visit; a row has no place, and what nobody knows is left out. hours_since_rain holds for all water that states no hours of its own.
#10;;;;VISIT surveyed=2026-03-14 surveyed_by="A. Person" weather="dry, 45 F, light wind" hours_since_rain=50 instrument=level
#11;;;;VISIT age_years=15 coverings=1 leaks="over the store, in thaw" warrantor="the maker of the membrane" warranty_until=2031
#12;;;;VISIT access="ladder on the east side, ask the caretaker" cuts_authorised_by="the owner"
`

// WriteCSV writes the file that takes the readings of the sheet: examples for a blank one; of a known roof the wanted spots in the frame and unit of its
// outline, in walking order, each as a comment until its rod is filled in.
func (s *Sheet) WriteCSV(w io.Writer) error {
	if s.Taped != nil {
		return s.writeTaped(w)
	}
	if s.Book == nil {
		_, err := io.WriteString(w, blank)
		return err
	}
	out := bufio.NewWriter(w)
	r := s.Book.Study.Roof
	head, decimals := []string{"point", "northing", "easting", "rod", "code"}, 3
	if r.Frame.Kind == roof.Geographic {
		head, decimals = []string{"point", "lat", "lon", "rod", "code"}, 8
	}
	_, _ = out.WriteString("# Once a spot is read, write its rod in and take the # off; all from one set-up, whose line of sight check takes as --hi. Add rows of your own.\n") // bufio keeps the error
	rows := csv.NewWriter(out)
	rows.Comma = ';' // so that what is noted may have commas in it
	if err := rows.Write(head); err != nil {
		return err
	}
	for i := range s.Book.NextSpots {
		at := r.Frame.ToFile(s.Book.NextSpots[i].Plan)
		row := []string{"#" + s.Book.Names.Local(s.Book.Names.NextSpot(i)), strconv.FormatFloat(at[1], 'f', decimals, 64), strconv.FormatFloat(at[0], 'f', decimals, 64), "", "SPOT"}
		if err := rows.Write(row); err != nil {
			return err
		}
	}
	return s.writeVisit(out, rows)
}

// writeTaped writes the file that goes on with a roof that was taped: beside the file of its outline it takes the heights that are wanted next, and water chalked anew.
func (s *Sheet) writeTaped(w io.Writer) error {
	out := bufio.NewWriter(w)
	_, _ = out.WriteString("# Read it beside the file of the roof: write rods in and take the # off; all from one set-up. Add rows of your own.\n" + // bufio keeps the error
		"# A later look at the same water belongs into a file of its own, with the outline: runnel compare says what changed.\npoint;place;rod;depth;code\n")
	rows := csv.NewWriter(out)
	rows.Comma = ';'
	for i := range s.Taped.Survey.Next {
		n := &s.Taped.Survey.Next[i]
		if err := rows.Write([]string{"#X" + strconv.Itoa(i+1), s.Taped.Place(n), "", "", n.Code}); err != nil {
			return err
		}
	}
	return s.writeVisit(out, rows)
}

// writeVisit ends a file with the row that takes what is noted on the visit.
func (s *Sheet) writeVisit(out *bufio.Writer, rows *csv.Writer) error {
	rows.Flush()
	if err := rows.Error(); err != nil {
		return err
	}
	_, _ = out.WriteString("# What is noted on the visit: write it between the quotes and behind the signs, and take the # off.\n")
	_, _ = out.WriteString("#visit;;;;" + s.visitCode() + "\n")
	return out.Flush()
}

// visitCode is the row that takes what is noted on the visit, with what is known of the roof already.
func (s *Sheet) visitCode() string {
	code := "VISIT surveyed="
	lasting := s.roof().Visit.Lasting()
	for _, name := range roof.VisitNames() {
		text, number, _ := lasting.Get(name)
		if !number {
			text = `"` + strings.NewReplacer(`"`, "'", ";", ",").Replace(text) + `"`
		} else if text == "0" {
			text = ""
		}
		code += " " + name + "=" + text
	}
	return code
}
