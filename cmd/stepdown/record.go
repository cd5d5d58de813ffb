package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"stepdown/engine/journal"
	"stepdown/engine/session"
)

// record is where a call is kept. Without a journal every event is lost, and
// Append says why; the call goes on in memory.
type record struct {
	name    string
	path    string // of the journal
	journal *journal.Journal
	lock    *lock
	lost    error
}

// Append implements chat.Recorder.
func (r *record) Append(e session.Event) error {
	if r.journal == nil {
		return r.lost
	}
	return r.journal.Append(e)
}

// drawn notes which trees the call draws on; it goes to disk with the next
// event.
func (r *record) drawn(lib library) error {
	print, err := lib.fingerprint()
	if err == nil && r.journal != nil {
		r.journal.Trees(print)
	}
	return err
}

// named is fill, and then the note of what was filled in.
func (r *record) named(lib library, fill func() error) func() error {
	return func() error {
		if err := fill(); err != nil {
			return err
		}
		return r.drawn(lib)
	}
}

// nameLayout names a call by the minute it started in.
const nameLayout = "20060102-1504"

const nameLen = len(nameLayout)

// namesMax is how many calls one minute may have.
const namesMax = 1000

// newRecord starts a journal under a new name. It cannot fail: a call that
// cannot be kept goes on all the same.
func (w world) newRecord(h journal.Head) *record {
	dir, err := w.openFolder()
	if err != nil {
		return &record{lost: err}
	}
	first := w.now().Format(nameLayout)
	for n := 1; n < namesMax; n++ {
		name := first
		if n > 1 {
			name = fmt.Sprintf("%s-%d", first, n)
		}
		r, err := dir.begin(name, h)
		switch {
		case err == nil:
			return r
		case taken(err):
			continue
		}
		return &record{lost: err}
	}
	return &record{lost: fmt.Errorf("%d calls were started in this minute", namesMax)}
}

// begin locks a name and makes its journal.
func (f folder) begin(name string, h journal.Head) (*record, error) {
	lock, err := f.lock(name)
	if err != nil {
		return nil, err
	}
	j, err := journal.Create(f, name+callEnding, h)
	if err != nil {
		lock.free(false)
		return nil, err
	}
	return &record{name: name, path: f.path(name + callEnding), journal: j, lock: lock}, nil
}

func taken(err error) bool {
	var f *failure
	return errors.Is(err, fs.ErrExist) || errors.As(err, &f) && f.code == exitOpen
}

// resumeRecord opens the journal of a call that was left. Where the file can
// be read but not written, the call goes on in memory.
func (f folder) resumeRecord(name string) (*record, journal.Call, error) {
	lock, err := f.lock(name)
	if err != nil {
		return nil, journal.Call{}, err
	}
	j, call, err := journal.Resume(f, name+callEnding)
	var unwritten *journal.WriteError
	if err != nil && !errors.As(err, &unwritten) {
		lock.free(false)
		return nil, call, err
	}
	return &record{name: name, path: f.path(name + callEnding), journal: j, lock: lock, lost: err}, call, nil
}

// close ends the record: a call at its end gets its last line and gives its
// lock file up.
func (r *record) close(s session.State) {
	if s.Ended() && r.journal != nil {
		end := journal.End{}
		if found := s.Finding(); found != nil {
			end.Finding = string(found.ID)
		}
		_ = r.journal.Finish(end) // without it the call is offered again, and ends at once
	}
	_ = r.journal.Close() // every line was synced
	r.lock.free(s.Ended())
}

// drop ends the record of a call in which nothing was said: it leaves nothing
// behind.
func (r *record) drop() {
	if r.journal != nil {
		_ = r.journal.Close()
		_ = os.Remove(r.path) // else an empty call is listed
	}
	r.lock.free(true)
}
