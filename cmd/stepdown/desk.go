package main

import (
	"os"
	"path/filepath"

	"stepdown/engine/chat"
)

// desk is where a conversation is held: a screen, and who types at it. lines
// is nil where a program does.
type desk struct {
	screen
	lines chat.LineReader
}

func (w world) openDesk(l look) (*desk, error) {
	d := &desk{screen: newScreen(w.stdin, w.stdout, w.env, l.color, l.plain)}
	if l.json {
		return d, nil
	}
	var err error
	d.lines, err = d.open(w.historyFile())
	return d, err
}

// historyFile is where typed lines are kept for the arrow keys; empty where
// there is no place for it.
func (w world) historyFile() string {
	dir, err := w.stateFolder()
	if err != nil || os.MkdirAll(dir, 0o700) != nil {
		return ""
	}
	return filepath.Join(dir, "history")
}

// close gives the terminal back as it was.
func (d *desk) close() {
	if d.lines != nil {
		_ = d.lines.Close()
	}
}
