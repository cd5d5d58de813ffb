package main

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"io"
	"io/fs"
	"os"
	"slices"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/complaint"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// library is the trees and cautions a call draws on: those built in, with a
// folder of somebody's own over them where one is named.
type library struct {
	own string // --trees, empty as a rule
}

// overlays are the folders over the built-in trees.
func (l library) overlays() ([]fs.FS, error) {
	if l.own == "" {
		return nil, nil
	}
	info, err := os.Stat(l.own)
	if err != nil || !info.IsDir() {
		return nil, usage("--trees names a folder of *.yaml files", "there is no folder %q", l.own)
	}
	return []fs.FS{tree.At(l.own, os.DirFS(l.own))}, nil
}

// fill loads everything into the book.
func (l library) fill(b *session.Book) error {
	over, err := l.overlays()
	if err != nil {
		return err
	}
	set, problems := caution.Load(cautions.FS)
	lib, more := tree.Load(tree.At("trees", trees.FS), over...)
	problems = append(problems, more...)
	if lib != nil {
		problems = append(problems, lib.CheckCautions(set.IDs()...)...)
	}
	if err := problems.Err(); err != nil {
		return err
	}
	b.Trees, b.Cautions = lib, set
	return nil
}

// fingerprint tells whether a call is resumed on the trees and cautions it
// was started on.
func (l library) fingerprint() (string, error) {
	over, err := l.overlays()
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	room := make([]byte, 32<<10) // reused: no file is copied whole at a start
	for _, files := range slices.Concat([]fs.FS{trees.FS, cautions.FS}, over) {
		names, err := fs.Glob(files, "*.yaml")
		if err != nil {
			return "", err
		}
		for _, name := range names {
			if err := sumFile(sum, files, name, room); err != nil {
				return "", err
			}
		}
	}
	return hex.EncodeToString(sum.Sum(nil)[:6]), nil
}

// sumFile adds a file's name, length and bytes to sum, through room.
func sumFile(sum io.Writer, files fs.FS, name string, room []byte) error {
	file, err := files.Open(name)
	if err != nil {
		return err
	}
	defer file.Close()
	about, err := file.Stat()
	if err != nil {
		return err
	}
	_, _ = io.WriteString(sum, name)
	_ = binary.Write(sum, binary.BigEndian, about.Size())
	_, err = io.CopyBuffer(sum, file, room)
	return err
}

// words finds trees for the session in people's own words; it is made when
// the first words come.
type words struct {
	book    *session.Book
	matcher *complaint.Matcher
}

// Match implements session.Matcher.
func (w *words) Match(text string) session.Match {
	if w.matcher == nil {
		said := map[house.Complaint][]string{}
		if w.book.Trees != nil {
			for c, t := range w.book.Trees.Trees {
				said[c] = t.Complaints
			}
		}
		w.matcher = complaint.New(said)
	}
	m := w.matcher.Match(text)
	return session.Match(m)
}
