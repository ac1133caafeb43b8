//go:build !js

package command

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"

	"runnel/cmd/viewer"
)

// servePage serves the program as a page until ctx ends. given names the folder, or is empty.
func (k *view) servePage(ctx context.Context, given []string) error {
	folder, err := pageFolder(given)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return fmt.Errorf("%s: %w", folder, err)
	}
	defer func() { _ = root.Close() }()
	s, err := k.open(ctx, func(known func(string) bool) http.Handler { return viewer.Page(root.FS(), known) },
		"over a network a browser keeps the page for use without one only where it comes by https; put the folder on a web space for that.")
	if err != nil {
		return err
	}
	return s.until(ctx)
}

// pageFolder returns the folder that holds the page: the one that was given, else what make page writes here, else the one beside the program.
func pageFolder(given []string) (string, error) {
	places := given
	if len(given) == 0 {
		places = []string{filepath.Join("dist", "page")}
		if own, err := os.Executable(); err == nil {
			places = append(places, filepath.Join(filepath.Dir(own), "page"), filepath.Join(filepath.Dir(own), "..", "dist", "page"))
		}
	}
	for _, p := range places {
		if info, err := os.Stat(filepath.Join(p, viewer.Program)); err == nil && info.Mode().IsRegular() {
			return p, nil
		}
	}
	if len(given) > 0 {
		return "", fmt.Errorf("%s holds no page: name the folder that \"make page\" wrote", given[0])
	}
	return "", errors.New("there is no page here: make it with \"make page\", or name the folder that holds it")
}
