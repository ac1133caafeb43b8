package command

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/tidwall/gjson"

	"runnel/analysis/choose"
	"runnel/analysis/offset"
	"runnel/analysis/roof"
	"runnel/cmd/call"
	"runnel/importer/points"
)

// writeAnswers adds answers to the file that holds the outline of a roof, and returns its path. The file is replaced whole or not at all.
func writeAnswers(r *roof.Roof, answers []roof.Answer) (string, error) {
	path := r.Outline.Origin.File
	i := slices.IndexFunc(r.Inputs, func(in roof.Input) bool { return in.Path == path })
	if i < 0 {
		return "", call.Usage("the outline came from no file that can be written")
	}
	data, err := os.ReadFile(path) //nolint:gosec // the file that the user names
	if err != nil {
		return "", err
	}
	if r.Inputs[i].Format == "geojson" {
		data, err = withFeatures(path, data, r, answers)
	} else {
		data, err = withRows(path, data, r, answers)
	}
	if err != nil {
		return "", err
	}
	return filepath.ToSlash(path), replaceFile(path, data)
}

// withFeatures adds a feature for each answer at the end of a FeatureCollection, and leaves all else as it is written.
func withFeatures(path string, data []byte, r *roof.Roof, answers []roof.Answer) ([]byte, error) {
	features := gjson.GetBytes(data, "features")
	if !features.IsArray() || features.Index <= 0 {
		return nil, fmt.Errorf("%s: it has no list of features to add to; write it as a FeatureCollection", path)
	}
	var out bytes.Buffer
	end := features.Index + len(features.Raw) - 1
	out.Write(bytes.TrimRight(data[:end], " \t\r\n"))
	for i := range answers {
		a := &answers[i]
		if i > 0 || len(features.Array()) > 0 {
			out.WriteByte(',')
		}
		at := a.Plan
		if !a.Placed {
			at = r.Outline.Rings[0][0].Plan
		}
		file := r.Frame.ToFile(at)
		decimals := choose.If(r.Frame.Kind == roof.Geographic, 8, 3)
		properties, err := json.Marshal(struct {
			Role     string `json:"role"`
			Question string `json:"question"`
			Answer   string `json:"answer"`
			By       string `json:"by"`
			On       string `json:"on"`
			Number   int    `json:"number,omitempty"`
			To       string `json:"to,omitempty"`
			Covers   string `json:"covers,omitempty"`
		}{"answer", a.Question, a.Text, a.By, a.On, a.Number, recipient(a), a.Covers})
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&out, "\n{\"type\": \"Feature\", \"properties\": %s, \"geometry\": {\"type\": \"Point\", \"coordinates\": [%s, %s]}}",
			properties, strconv.FormatFloat(file[0], 'f', decimals, 64), strconv.FormatFloat(file[1], 'f', decimals, 64))
	}
	out.WriteByte('\n')
	out.Write(data[end:])
	return out.Bytes(), nil
}

// withRows adds a row for each answer at the end of a point file.
func withRows(path string, data []byte, r *roof.Roof, answers []roof.Answer) ([]byte, error) {
	var rows []points.Added
	for i := range answers {
		a := &answers[i]
		quoted := func(s string) string { return `"` + strings.NewReplacer(`"`, "", ";", ",").Replace(s) + `"` }
		row := points.Added{Code: "ANSWER question=" + quoted(a.Question) + " answer=" + quoted(a.Text) + " by=" + quoted(a.By) + " on=" + a.On}
		if a.Number > 0 {
			row.Code += " number=" + strconv.Itoa(a.Number)
		}
		if to := recipient(a); to != "" {
			row.Code += " to=" + to
		}
		if a.Covers != "" {
			row.Code += " covers=" + quoted(a.Covers)
		}
		if a.Placed {
			file := r.Frame.ToFile(a.Plan)
			decimals := choose.If(r.Frame.Kind == roof.Geographic, 8, 3)
			row.X, row.Y = strconv.FormatFloat(file[0], 'f', decimals, 64), strconv.FormatFloat(file[1], 'f', decimals, 64)
			if points.Taped(path, data) {
				near, across, ok := offset.Nearest(offset.Walls(roof.PlanOf(r.Outline.Rings[0]), r.Tape != nil && r.Tape.Clockwise), a.Plan)
				if !ok {
					return nil, fmt.Errorf("%s: no two walls give the place of the answer; add it by hand as a row with the code ANSWER", path)
				}
				row.Place = fmt.Sprintf("%.3f m from wall %d and %.3f m from wall %d", near.Distance(a.Plan), near.Number, across.Distance(a.Plan), across.Number)
			}
		}
		rows = append(rows, row)
	}
	return points.Append(path, data, rows)
}

// recipient is who was asked, as files say it: nothing where the question's name tells, or it was the engineer.
func recipient(a *roof.Answer) string {
	return choose.If(a.To == roof.Asked(a.Question).To(), "", string(a.To))
}

// replaceFile puts a new text in the place of a file's: whole, or the old one stays.
func replaceFile(path string, data []byte) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".runnel-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(info.Mode().Perm()), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}
