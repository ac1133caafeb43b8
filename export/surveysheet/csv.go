package surveysheet

import "io"

// WriteCSV writes the file that takes the readings of the sheet.
func (s *Sheet) WriteCSV(w io.Writer) error {
	_, err := io.WriteString(w, "point,place,rod,code\n")
	return err
}
