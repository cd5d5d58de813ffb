package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"stepdown/engine/source"
)

// historyMax is how many lines the arrow keys go back.
const historyMax = 500

// history is the lines typed before, in a file that only its owner can read.
// The line editor's own would be readable by all. Without a file, or where it
// cannot be written, it lasts as long as the run.
type history struct {
	lines []string
	file  *os.File
}

func openHistory(name string) *history {
	h := &history{}
	if name == "" {
		return h
	}
	if data, err := os.ReadFile(name); err == nil {
		h.lines = strings.FieldsFunc(string(data), func(r rune) bool { return r == '\n' })
		for i, line := range h.lines {
			h.lines[i] = source.Clean(line)
		}
		if len(h.lines) > historyMax {
			h.lines = h.lines[len(h.lines)-historyMax:]
			_ = rewrite(name, h.lines)
		}
	}
	if file, err := os.OpenFile(name, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600); err == nil {
		_ = file.Chmod(0o600)
		h.file = file
	}
	return h
}

// rewrite replaces the file as a whole, so that a run cut short leaves the old
// one.
func rewrite(name string, lines []string) error {
	temp, err := os.CreateTemp(filepath.Dir(name), ".history-*") // 0600
	if err != nil {
		return err
	}
	_, err = temp.WriteString(strings.Join(lines, "\n") + "\n")
	if err = errors.Join(err, temp.Close()); err != nil {
		return errors.Join(err, os.Remove(temp.Name()))
	}
	return os.Rename(temp.Name(), name)
}

// add keeps a line that says something and is not the last one again.
func (h *history) add(line string) bool {
	line = source.Clean(strings.TrimSpace(line))
	if line == "" || len(h.lines) > 0 && h.lines[len(h.lines)-1] == line {
		return false
	}
	h.lines = append(h.lines, line)
	if h.file != nil {
		_, _ = fmt.Fprintln(h.file, line)
	}
	return true
}

func (h *history) close() error {
	if h.file == nil {
		return nil
	}
	return h.file.Close()
}
