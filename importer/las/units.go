package las

import (
	"encoding/binary"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"runnel/analysis/quantity"
)

// Records that state the frame: the user id and numbers of the key directory and of the text. LAS Specification 1.4 - R15, sections
// 3.2 and 3.3. From memory.
const (
	projectionUser = "LASF_Projection"
	keysRecord     = 34735
	textRecord     = 2112
)

// Keys of the directory and the codes that stand in them. OGC 19-008r4, GeoTIFF 1.1, sections 7.2 to 7.7 and annex D. From memory.
const (
	modelKey      = 1024
	linearKey     = 3076
	verticalKey   = 4099
	geographic    = 2
	metreCode     = 9001
	footCode      = 9002
	surveyorsFoot = 9003
)

// readUnits looks through the records before the points for the units.
func (h *header) readUnits(data []byte, records int) {
	u := binary.LittleEndian
	for range min(records, mostRecords) {
		if len(data) < recordHeader {
			return
		}
		user := strings.TrimRight(string(data[2:18]), "\x00 ")
		number, size := u.Uint16(data[18:]), int(u.Uint16(data[20:]))
		if len(data) < recordHeader+size {
			return
		}
		body := data[recordHeader : recordHeader+size]
		if user == projectionUser {
			switch number {
			case keysRecord:
				h.readKeys(body)
			case textRecord:
				h.readText(string(body))
			}
		}
		data = data[recordHeader+size:]
	}
}

// readKeys reads the key directory: four numbers a key, of which the first is the key and the last its value where the second is 0.
func (h *header) readKeys(body []byte) {
	u := binary.LittleEndian
	for at := 8; at+8 <= len(body); at += 8 {
		if u.Uint16(body[at+2:]) != 0 {
			continue
		}
		value := u.Uint16(body[at+6:])
		switch u.Uint16(body[at:]) {
		case modelKey:
			h.degrees = value == geographic
		case linearKey:
			h.unit = unitOf(value)
		case verticalKey:
			h.upright = unitOf(value)
		}
	}
}

// unitOf returns the unit of a code, Unstated for codes of others.
func unitOf(code uint16) quantity.Unit {
	switch code {
	case metreCode:
		return quantity.Metres
	case footCode:
		return quantity.Feet
	case surveyorsFoot:
		return quantity.USSurveyFeet
	}
	return quantity.Unstated
}

// inUnit finds the units in the text of a frame, their length in metres as a group. OGC 12-063r5 and 01-009, well-known text. From memory.
var inUnit = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)\b(?:LENGTH)?UNIT\s*\[\s*"[^"]*"\s*,\s*([0-9.eE+-]+)`)
})

// readText reads the units of a frame that is written as text: the last of the part on the plan and the last of the part on elevations.
func (h *header) readText(text string) {
	text = strings.TrimRight(text, "\x00")
	plan, upright := text, ""
	for _, word := range []string{"VERT_CS", "VERTCRS"} {
		if i := strings.Index(strings.ToUpper(text), word); i >= 0 {
			plan, upright = text[:i], text[i:]
		}
	}
	projected := strings.Contains(strings.ToUpper(plan), "PROJC")
	h.degrees = !projected && (strings.Contains(strings.ToUpper(plan), "GEOGC") || strings.Contains(strings.ToUpper(plan), "GEODC"))
	if projected {
		h.unit = lastUnit(plan)
	}
	h.upright = lastUnit(upright)
}

// lastUnit returns the last unit of a text that is a length which surveys are in.
func lastUnit(text string) quantity.Unit {
	found := inUnit().FindAllStringSubmatch(text, -1)
	if len(found) == 0 {
		return quantity.Unstated
	}
	metres, err := strconv.ParseFloat(found[len(found)-1][1], 64)
	if err != nil {
		return quantity.Unstated
	}
	for _, u := range []quantity.Unit{quantity.Metres, quantity.Feet, quantity.USSurveyFeet} {
		if math.Abs(metres/u.Metres()-1) < 1e-7 { // the two feet differ by 2e-6
			return u
		}
	}
	return quantity.Unstated
}
