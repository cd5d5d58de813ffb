package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/gofrs/flock"

	"stepdown/engine/journal"
	"stepdown/engine/source"
)

// callEnding is the ending of a call's journal.
const callEnding = ".jsonl"

// folder is the calls on disk; it implements journal.Disk.
type folder string

// openFolder makes the folder of calls where it is not there yet, for its
// owner alone.
func (w world) openFolder() (folder, error) {
	state, err := w.stateFolder()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(state, "calls")
	return folder(dir), os.MkdirAll(dir, 0o700)
}

func (f folder) path(name string) string { return filepath.Join(string(f), name) }

// readMax is past the longest journal that is taken.
const readMax = 32 << 20

func (f folder) ReadFile(name string) ([]byte, error) {
	file, err := os.Open(f.path(name))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if info, err := file.Stat(); err == nil && info.Size() < readMax {
		b.Grow(int(info.Size()) + bytes.MinRead) // one read, and one that finds the end
	}
	_, err = b.ReadFrom(io.LimitReader(file, readMax))
	return b.Bytes(), errors.Join(err, file.Close())
}

func (f folder) Create(name string) (journal.File, error) {
	return orNil(os.OpenFile(f.path(name), os.O_CREATE|os.O_EXCL|os.O_WRONLY|os.O_APPEND, 0o600))
}

func (f folder) Append(name string) (journal.File, error) {
	return orNil(os.OpenFile(f.path(name), os.O_WRONLY|os.O_APPEND, 0o600))
}

// orNil keeps a nil *os.File from hiding in an interface.
func orNil(file *os.File, err error) (journal.File, error) {
	if err != nil {
		return nil, err
	}
	return file, nil
}

// Sync makes new names last. Windows syncs no folders and needs none.
func (f folder) Sync() error {
	if runtime.GOOS == "windows" {
		return nil
	}
	dir, err := os.Open(string(f))
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}

// calls lists the names of the calls, oldest first.
func (f folder) calls() ([]string, error) {
	entries, err := os.ReadDir(string(f))
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), callEnding); ok && validCall(name) {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, byAge)
	return names, nil
}

// byAge orders 20260714-1504 before 20260714-1504-2 before 20260714-1504-10.
func byAge(a, b string) int {
	if len(a) != len(b) && len(a) > nameLen && len(b) > nameLen && a[:nameLen] == b[:nameLen] {
		return len(a) - len(b)
	}
	return strings.Compare(a, b)
}

// validCall keeps a name from leaving the folder.
func validCall(name string) bool {
	return name != "" && len(name) < 64 && strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// lock takes a call for this process. Held elsewhere, it is a failure with
// its own exit code.
func (f folder) lock(call string) (*lock, error) {
	l := flock.New(f.path(call+".lock"), flock.SetPermissions(0o600))
	got, err := l.TryLock()
	if err != nil {
		return nil, err
	}
	if !got {
		return nil, &failure{exitOpen, "call " + call + " is open in another stepdown", "go on there, or leave it there first with quit"}
	}
	return &lock{l}, nil
}

// lock is held while a call is open. The process's end frees it too.
type lock struct{ file *flock.Flock }

// free gives the call back; gone is set where the call has ended and nobody
// will open it again.
func (l *lock) free(gone bool) {
	if l == nil {
		return
	}
	if gone {
		_ = os.Remove(l.file.Path()) // only tidiness
	}
	_ = l.file.Unlock() // the process's end does it too
}

// named finds the call a person asked for.
func (f folder) named(call string) (string, error) {
	names, err := f.calls()
	if err != nil {
		return "", err
	}
	if slices.Contains(names, call) {
		return call, nil
	}
	hint := "stepdown calls lists them"
	if near, ok := source.Nearest(call, names); ok {
		hint = "did you mean " + near + "?"
	}
	return "", usage(hint, "there is no call %q", call)
}
