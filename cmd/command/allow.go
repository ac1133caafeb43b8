//go:build !js

package command

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
	"runnel/cmd/campus"
	"runnel/cmd/trust"
	"runnel/export/record"
)

// again turns a run of the folder into a command line, where it may be made again: the user wrote its results on this
// machine, or has allowed what it reads. It reads files and folders alone, no devices and pipes.
func (k *view) again(run record.Run, folder string) (call.Repetition, error) {
	again, err := call.Repeat(commandOf(run), run, folder)
	if err != nil {
		return call.Repetition{}, err
	}
	for _, path := range again.Inputs {
		if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
			return call.Repetition{}, fmt.Errorf("%s is neither a file nor a folder, so it is not read", path)
		}
	}
	if trust.Run(folder, run) {
		return again, nil
	}
	allowed, asked := k.allowed[keyOfRun(run)]
	switch {
	case !asked:
		return call.Repetition{}, errors.New("these results were not written by you on this machine, so they are not made again; to make your own, run " + run.Command + " on the survey")
	case allowed != strings.Join(everyPath(again.Inputs), "\n"):
		return call.Repetition{}, errors.New("the run would now read other files than those that you allowed; end view and begin it again to see them")
	}
	again.Allowed = true
	return again, nil
}

// commandOf returns the command by which a run was made, nil where it is none that can be made again.
func commandOf(run record.Run) *cobra.Command {
	switch run.Command {
	case "check":
		return newCheck(call.Streams{})
	case "storm":
		return newStorm(call.Streams{})
	case "campus":
		return campus.New(call.Streams{})
	}
	return nil
}

func keyOfRun(run record.Run) string { return string(run.Object().Append(nil)) }

// mostPaths is how many paths a user can be asked to look through.
const mostPaths = 200

// ask shows every path that runs which are not known would read, and notes whether the user allows that. Without
// somebody to ask, nothing is allowed.
func (k *view) ask(ctx context.Context, runs []record.Run, folder string) {
	k.allowed = map[string]string{}
	reads := map[string]string{}
	var paths []string
	for _, run := range runs {
		again, err := call.Repeat(commandOf(run), run, folder)
		if err != nil || trust.Run(folder, run) {
			continue
		}
		all := everyPath(again.Inputs)
		reads[keyOfRun(run)] = strings.Join(all, "\n")
		paths = append(paths, all...)
	}
	if len(reads) == 0 || k.In == nil {
		return
	}
	slices.Sort(paths)
	paths = slices.Compact(paths)
	if len(paths) > mostPaths {
		call.Note(k.Err, fmt.Sprintf("These results were not written by you on this machine, and would read %d files: they are shown as they are.", len(paths)))
		return
	}
	call.Note(k.Err, "These results were not written by you on this machine. To make them again, runnel would read:")
	for _, path := range paths {
		call.Note(k.Err, "  "+shownPath(path, folder))
	}
	call.Note(k.Err, "Type yes to allow that until view ends. Anything else shows the results as they are.")
	answered := make(chan string, 1)
	go func() {
		answer, _ := bufio.NewReader(k.In).ReadString('\n')
		answered <- strings.TrimSpace(answer)
	}()
	select {
	case answer := <-answered:
		if answer == "yes" {
			k.allowed = reads
		}
	case <-ctx.Done():
	}
}

// shownPath writes a path for a terminal: quoted, since who made the folder chose its signs, and marked where it
// leads out of the folder.
func shownPath(path, folder string) string {
	text := fmt.Sprintf("%q", path)
	place, err := filepath.Abs(folder)
	if real, linked := filepath.EvalSymlinks(place); linked == nil {
		place = real
	}
	way, away := filepath.Rel(place, path)
	if err != nil || away != nil || way == ".." || strings.HasPrefix(way, ".."+string(filepath.Separator)) {
		text += "   outside of this folder"
	}
	return text
}

// everyPath returns the whole paths of files and folders, links followed, with what links inside of the folders lead to.
func everyPath(paths []string) []string {
	var all []string
	add := func(path string) {
		if whole, err := filepath.Abs(path); err == nil {
			path = whole
		}
		if real, err := filepath.EvalSymlinks(path); err == nil {
			path = real
		}
		all = append(all, path)
	}
	for _, path := range paths {
		add(path)
		entries, err := os.ReadDir(path)
		if err != nil {
			continue // a file, or nothing
		}
		for _, e := range entries {
			if e.Type()&fs.ModeSymlink != 0 {
				add(filepath.Join(path, e.Name()))
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
