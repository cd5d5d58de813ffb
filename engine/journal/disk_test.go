package journal_test

import (
	"bytes"
	"errors"
	"io/fs"

	"stepdown/engine/journal"
)

var errFull = errors.New("no space left on device")

// memory is a disk that can fail: at the nth operation of a kind, counted
// from 1 over all its files, or with a write that comes up short.
type memory struct {
	files     map[string]*bytes.Buffer
	folderOK  bool // the folder was synced since the last create
	count     map[string]int
	failAt    map[string]int
	shortAt   int
	synced    map[string]int // bytes known to be on disk
	truncated []string
}

func newMemory() *memory {
	return &memory{files: map[string]*bytes.Buffer{}, folderOK: true, count: map[string]int{}, failAt: map[string]int{}, synced: map[string]int{}}
}

func (m *memory) fails(op string) bool {
	m.count[op]++
	return m.failAt[op] == m.count[op]
}

func (m *memory) ReadFile(name string) ([]byte, error) {
	if m.fails("read") {
		return nil, errFull
	}
	b, ok := m.files[name]
	if !ok {
		return nil, fs.ErrNotExist
	}
	return bytes.Clone(b.Bytes()), nil
}

func (m *memory) Create(name string) (journal.File, error) {
	if m.fails("create") {
		return nil, errFull
	}
	if _, ok := m.files[name]; ok {
		return nil, fs.ErrExist
	}
	m.files[name], m.folderOK = &bytes.Buffer{}, false
	return &memoryFile{m, name}, nil
}

func (m *memory) Append(name string) (journal.File, error) {
	if m.fails("append") {
		return nil, fs.ErrPermission
	}
	if _, ok := m.files[name]; !ok {
		return nil, fs.ErrNotExist
	}
	return &memoryFile{m, name}, nil
}

func (m *memory) Sync() error {
	if m.fails("sync-folder") {
		return errFull
	}
	m.folderOK = true
	return nil
}

type memoryFile struct {
	m    *memory
	name string
}

func (f *memoryFile) Write(data []byte) (int, error) {
	if f.m.fails("write") {
		return 0, errFull
	}
	if f.m.shortAt == f.m.count["write"] {
		return f.m.files[f.name].Write(data[:len(data)/2])
	}
	return f.m.files[f.name].Write(data)
}

func (f *memoryFile) Truncate(size int64) error {
	if f.m.fails("truncate") {
		return errFull
	}
	f.m.truncated = append(f.m.truncated, f.name)
	f.m.files[f.name].Truncate(int(size))
	return nil
}

func (f *memoryFile) Sync() error {
	if f.m.fails("sync") {
		return errFull
	}
	f.m.synced[f.name] = f.m.files[f.name].Len()
	return nil
}

func (f *memoryFile) Close() error { return nil }
