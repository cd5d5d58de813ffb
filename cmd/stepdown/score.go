package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stepdown/engine/chat"
	"stepdown/engine/drill"
)

// scored is one drill in the file of scores.
type scored struct {
	At        time.Time `json:"at"`
	Lesson    string    `json:"lesson,omitempty"`
	Equipment string    `json:"equipment"`
	Fault     string    `json:"fault"`
	Seed      uint64    `json:"seed"`
	drill.Score
}

// scoresFile is where scores are kept; empty where there is no place for it.
func (w world) scoresFile() string {
	dir, err := w.stateFolder()
	if err != nil || os.MkdirAll(dir, 0o700) != nil {
		return ""
	}
	return filepath.Join(dir, "scores.jsonl")
}

// scores reads what was kept; a line that cannot be read is left out, since a
// score is no record of a call.
func (w world) scores() []scored {
	file, err := os.Open(w.scoresFile())
	if err != nil {
		return nil
	}
	defer func() { _ = file.Close() }() // it was only read
	var out []scored
	in := bufio.NewScanner(file)
	for in.Scan() {
		var s scored
		if json.Unmarshal(in.Bytes(), &s) == nil {
			out = append(out, s)
		}
	}
	return out
}

// best is the best score of each lesson.
func best(list []scored) map[string]int {
	out := map[string]int{}
	for _, s := range list {
		if s.Lesson != "" && s.Right {
			out[s.Lesson] = max(out[s.Lesson], s.Total)
		}
	}
	return out
}

// keepScore keeps what a drill came to and gives its exit code.
func (w world) keepScore(talk *chat.Drill, s scored) error {
	score, ok := talk.Score()
	if !ok {
		return nil
	}
	s.At, s.Score = w.now(), score
	data, err := json.Marshal(s)
	if err != nil {
		return err
	}
	file, err := os.OpenFile(w.scoresFile(), os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err == nil {
		_, err = file.Write(append(data, '\n'))
		err = errors.Join(err, file.Close())
	}
	if err != nil {
		w.say("note: the score could not be kept: %v", err)
	}
	if s.Lesson != "" && score.Right && score.Total >= drill.Pass {
		if _, err := fmt.Fprintf(w.stdout, "  Lesson passed.\n"); err != nil {
			return err
		}
	}
	if !talk.Right() {
		return ended(exitUndecided)
	}
	return nil
}

func (w world) listLessons() error {
	var list strings.Builder
	top := best(w.scores())
	for i, l := range drill.Lessons() {
		mark := "-"
		if n, ok := top[l.ID]; ok {
			mark = fmt.Sprint(n)
			if n >= drill.Pass {
				mark += " passed"
			}
		}
		fmt.Fprintf(&list, "%2d  %-12s %-10s %s\n", i+1, l.ID, mark, l.Title)
	}
	_, err := io.WriteString(w.stdout, w.onScreen(list.String()))
	return err
}
