package soak

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// head is the first line of a file that go test -fuzz keeps.
const head = "go test fuzz v1"

// largest is how many bytes an input may have: small ones run fast.
const largest = 600

// writeInput writes an input as go test -fuzz does.
func writeInput(input []any) []byte {
	text := []byte(head + "\n")
	for _, v := range input {
		switch v := v.(type) {
		case []byte:
			text = fmt.Appendf(text, "[]byte(%q)\n", v)
		case uint8:
			text = fmt.Appendf(text, "byte(%q)\n", v)
		default:
			text = fmt.Appendf(text, "%T(%#v)\n", v, v)
		}
	}
	return text
}

// readCorpus reads the small inputs of a folder; none where it does not exist. What it holds beside inputs is an error.
func readCorpus(folder string) ([][]any, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var inputs [][]any
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || info.Size() > 4*largest { // bytes may be written by four each
			continue
		}
		text, err := os.ReadFile(filepath.Join(folder, e.Name())) //nolint:gosec // a folder of our own cache
		if err != nil {
			return nil, err
		}
		input, err := readInput(string(text))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Name(), err)
		}
		if size(input) <= largest {
			inputs = append(inputs, input)
		}
	}
	return inputs, err
}

// readInput reads what writeInput writes.
func readInput(text string) ([]any, error) {
	first, rest, _ := strings.Cut(text, "\n")
	if strings.TrimSpace(first) != head {
		return nil, fmt.Errorf("%q is no head of an input", first)
	}
	var input []any
	for line := range strings.Lines(rest) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		v, err := readValue(line)
		if err != nil {
			return nil, err
		}
		input = append(input, v)
	}
	return input, nil
}

// readValue reads one line of an input, such as string("8 in").
func readValue(line string) (any, error) {
	kind, value, ok := strings.Cut(strings.TrimSuffix(line, ")"), "(")
	if !ok {
		return nil, fmt.Errorf("%q is no value", line)
	}
	switch kind {
	case "string", "[]byte":
		text, err := strconv.Unquote(value)
		if kind == "string" {
			return text, err
		}
		return []byte(text), err
	case "bool":
		return strconv.ParseBool(value)
	case "uint32":
		n, err := strconv.ParseUint(value, 0, 32)
		return uint32(n), err
	case "byte", "uint8":
		if n, err := strconv.ParseUint(value, 0, 8); err == nil {
			return uint8(n), nil
		}
		char, err := strconv.Unquote(value) // a rune in quotes gives its text
		if r := []rune(char); err == nil && len(r) == 1 && r[0] <= 255 {
			return uint8(r[0]), nil
		}
		return nil, fmt.Errorf("%q is no byte", value)
	}
	return nil, fmt.Errorf("%q is of no known kind", line)
}

// size is the length of an input's texts.
func size(input []any) int {
	n := 0
	for _, v := range input {
		switch v := v.(type) {
		case string:
			n += len(v)
		case []byte:
			n += len(v)
		}
	}
	return n
}
