package draft

import (
	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// Format is one way in which the files of a survey are written: how a file of it is told from others, and what opens it.
type Format struct {
	Name       string            // in the record of what was read
	Noun       string            // what messages call a file of it: "GeoJSON"
	Extensions []string          // of the files that belong to a roof when a folder is searched, in lower case
	Shared     map[string]string // extensions that other things bear too, and what the beginning of a file of this format holds then
	Outlines   bool              // its files hold the outline as a rule: they are read before those of the other formats
	Geographic bool              // a file that states no frame is in longitude and latitude; else it takes that of the other files
	Line       int               // longest line that is read [bytes], 0 where lines mean nothing
	Smaller    string            // what to do about a file that is too great

	// Is reports whether a file is of this format, by its beginning or, where head is nil, by its name alone.
	Is func(name string, head []byte) bool
	// Fault says what speaks against reading a file with this beginning, and the mend; nothing where rule is empty.
	Fault func(head []byte) (rule, mend string)
	// Opener returns what opens files of this format, as the user says that they are to be understood. It adds what is
	// wrong in what the user says to problems.
	Opener func(o Options, problems *roof.Refusal) Opener
}

// Opener opens a file with this name and content. It adds to problems; nil says that the file cannot be read at all.
type Opener func(name string, data []byte, problems *roof.Refusal) File

// OpenerOf makes an Opener of what opens a file as its own type: its zero value says that the file cannot be read at all.
func OpenerOf[F interface {
	comparable
	File
}](open func(name string, data []byte, problems *roof.Refusal) F) Opener {
	return func(name string, data []byte, problems *roof.Refusal) File {
		var none F
		if f := open(name, data, problems); f != none {
			return f
		}
		return nil // and no File that holds a nil pointer
	}
}

// Options are what a user says about the files beyond what they state themselves.
type Options struct {
	Columns  []string // of files without a header
	HI       string   // height of instrument for rod readings: a length, a bare number in the file's unit; empty for none
	KeepZero bool     // use elevations of exactly zero among others that are not
	CodeList string   // path of an office's list of codes, empty for none
	Codes    []byte   // its text
}

// File is one file, opened.
type File interface {
	// Stated returns the unit and the frame that the file itself states: quantity.Unstated and empty where it states none.
	Stated() (unit quantity.Unit, frame string)
	// Read reads the file. Problems are added to problems; what could be read is returned all the same.
	Read(set Setting, problems *roof.Refusal) *Draft
}

// Holder is a File that can say how many outlines it holds, or may hold, before it is read.
type Holder interface{ Outlines() int }

// Columned is a File of columns.
type Columned interface {
	Named() bool     // whether the columns are those of Options
	Rod() bool       // whether it holds rod readings, which Options.HI turns into elevations
	Undecided() bool // whether the order of the plan columns is open; Decide it before Read then
	// Decide takes the order of the plan columns that alone puts the points inside, and says so in a sentence. It adds a
	// problem and returns false where the order stays open. inside is nil where there is no outline.
	Decide(inside func(orb.Point) bool, geographic bool, problems *roof.Refusal) (said string, ok bool)
}

// Taped is a File whose places may be distances from the walls of an outline that another file has.
type Taped interface {
	Taped() bool       // whether they are
	Along(known Known) // says what the files before it know of the roof, in the unit of this one
}

// Cropped is a File of which only what lies on roofs is read.
type Cropped interface {
	// Crop says where roofs are: polygons in the coordinates of the file, whose unit is so long [m]. It may be called again for more.
	Crop(roofs []orb.Polygon, unit float64)
}

// Known is what places may be measured from.
type Known struct {
	Ring      orb.Ring // the outline, closed, counter-clockwise
	Clockwise bool     // its walls were taped clockwise
	Names     []Name
}

// Name is a thing on the roof that has one.
type Name struct {
	Text string
	At   orb.Point
}
