package journal

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"stepdown/engine/session"
)

// ErrStopped is what a journal answers after its first failure.
var ErrStopped = errors.New("the journal has stopped: the call goes on in memory only")

// WriteError is the failure that stopped a journal: from here on the call is
// in memory only.
type WriteError struct {
	Name string
	Err  error
}

func (e *WriteError) Error() string {
	return fmt.Sprintf("cannot write %s: %v", e.Name, e.Err)
}

func (e *WriteError) Unwrap() error { return e.Err }

// Journal appends to the file of one call. It is not safe for two goroutines.
type Journal struct {
	name    string
	disk    Disk
	file    File
	ahead   []byte // lines that go to disk with the next event
	fresh   bool   // the folder does not know the file for sure
	seq     int
	prev    string
	broken  error // a record could not be encoded
	stopped bool
}

// Create makes the file of a new journal. Its head goes to disk in one write
// with the first event, so that a call starts after one sync of the file and
// one of the folder. Where the file exists the error answers
// errors.Is(err, fs.ErrExist).
func Create(d Disk, name string, h Head) (*Journal, error) {
	h.Format = Format
	file, err := d.Create(name)
	if err != nil {
		return nil, err
	}
	j := &Journal{name: name, disk: d, file: file, fresh: true}
	j.add(record{Head: &h})
	return j, nil
}

// Trees says what the call draws on from here: the fingerprint of its trees
// and cautions. It goes to disk with the next event.
func (j *Journal) Trees(fingerprint string) { j.add(record{Trees: fingerprint}) }

// Load reads a call without touching it.
func Load(d Disk, name string) (Call, error) {
	data, err := d.ReadFile(name)
	if err != nil {
		return Call{}, err
	}
	s, err := scan(name, data)
	if err != nil {
		return Call{}, err
	}
	return s.call, nil
}

// Resume reads a call and opens its journal to append to, a torn tail cut off
// and kept beside it in NAME.torn. Where the call can be read and the file
// cannot be written, it returns the call, a nil journal and a *WriteError.
func Resume(d Disk, name string) (*Journal, Call, error) {
	data, err := d.ReadFile(name)
	if err != nil {
		return nil, Call{}, err
	}
	s, err := scan(name, data)
	if err != nil {
		return nil, Call{}, err
	}
	file, err := d.Append(name)
	if err != nil {
		return nil, s.call, &WriteError{name, err}
	}
	if err := cut(d, file, name, s); err != nil {
		return nil, s.call, &WriteError{name, errors.Join(err, file.Close())}
	}
	return &Journal{name: name, disk: d, file: file, seq: s.seq, prev: s.prev}, s.call, nil
}

// cut keeps the torn bytes aside, then shortens the file to whole lines; in
// this order a second fault loses nothing.
func cut(d Disk, file File, name string, s *scanner) error {
	if len(s.call.Torn) == 0 {
		return nil
	}
	if err := keep(d, name+".torn", s.call.Torn); err != nil {
		return err
	}
	if err := file.Truncate(int64(s.size)); err != nil {
		return err
	}
	return file.Sync()
}

func keep(d Disk, name string, torn []byte) error {
	file, err := d.Create(name)
	if errors.Is(err, fs.ErrExist) {
		file, err = d.Append(name)
	}
	if err != nil {
		return err
	}
	err = writeWhole(file, append(torn[:len(torn):len(torn)], '\n'))
	if err == nil {
		err = file.Sync()
	}
	return errors.Join(err, file.Close(), d.Sync())
}

// Append puts one event on disk: when it returns nil the event is there. The
// first failure is a *WriteError and stops the journal for good; after it
// every call answers ErrStopped, since a failed sync must not be tried again.
func (j *Journal) Append(e session.Event) error { return j.write(record{Event: &e}) }

// Finish puts the end of the call on disk.
func (j *Journal) Finish(end End) error { return j.write(record{End: &end}) }

// Settle puts on disk what an ended call turned out to be.
func (j *Journal) Settle(c Closed) error { return j.write(record{Closed: &c}) }

// Close closes the file; a nil journal is closed already.
func (j *Journal) Close() error {
	if j == nil {
		return nil
	}
	return j.file.Close()
}

// add puts a record behind the lines that wait to be written. A record that
// cannot be encoded stops the journal like a disk that is full.
func (j *Journal) add(r record) {
	r.Seq, r.Prev = j.seq, j.prev
	line, err := r.encode()
	if err != nil {
		j.broken = err
		return
	}
	j.ahead = append(j.ahead, line...)
	j.seq, j.prev = j.seq+1, checksum(line[:len(line)-1])
}

func (j *Journal) write(r record) error {
	if j.stopped {
		return ErrStopped
	}
	j.add(r)
	if err := j.flush(); err != nil {
		j.stopped = true
		return &WriteError{j.name, err}
	}
	j.ahead, j.fresh = nil, false
	return nil
}

// flush writes what waits: one write, then one sync.
func (j *Journal) flush() error {
	if j.broken != nil {
		return j.broken
	}
	if err := writeWhole(j.file, j.ahead); err != nil {
		return err
	}
	if err := j.file.Sync(); err != nil || !j.fresh {
		return err
	}
	return j.disk.Sync()
}

func writeWhole(w io.Writer, data []byte) error {
	n, err := w.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	return err
}
