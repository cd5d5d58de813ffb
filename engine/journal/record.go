package journal

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"strings"
	"time"

	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Format is the number of the line format written here. Lower ones are read
// too; a higher one was written by a later version and is refused.
const Format = 1

// bytesMax is the largest journal read. A call of a thousand events takes a
// quarter of a megabyte.
const bytesMax = 16 << 20

// Head is a journal's first line.
type Head struct {
	Format  int       `json:"format"`
	Version string    `json:"version"` // of the program that started the call
	Started time.Time `json:"started"`
}

// End is the last line of a call that came to its end.
type End struct {
	Exit    int    `json:"exit"`
	Finding string `json:"finding,omitempty"`
}

// Closed is what a call turned out to be, once the repair was seen to hold.
// It may follow the end, again where somebody learned better.
type Closed struct {
	At    time.Time `json:"at"`
	Fault string    `json:"fault"` // a fault's id
	Note  string    `json:"note,omitempty"`
}

// Call is what a journal holds.
type Call struct {
	Head   Head
	Trees  string // fingerprint of the trees and cautions it draws on; empty before any was read
	Events []session.Event
	End    *End    // nil while the call is open
	Closed *Closed // what it turned out to be, where somebody said so later
	Torn   []byte  // what stood after the last whole line; empty as a rule
}

// record is one line: its number from 0, the checksum of the line before
// ("" on the first) and exactly one of the rest.
type record struct {
	Seq   int    `json:"seq"`
	Prev  string `json:"prev"`
	Head  *Head  `json:"head,omitempty"`
	Trees string `json:"trees,omitempty"`
	*session.Event
	End    *End    `json:"end,omitempty"`
	Closed *Closed `json:"closed,omitempty"`
}

// encode gives the record as its line.
func (r record) encode() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // a note stays readable in the file
	if err := e.Encode(r); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// checksum covers a line without its line feed: CRC-32, in hex. It is there
// for bad disks and careless editors, not for an enemy.
func checksum(line []byte) string {
	var sum [4]byte
	binary.BigEndian.PutUint32(sum[:], crc32.ChecksumIEEE(line))
	return hex.EncodeToString(sum[:])
}

// parse reads a line and checks that it is a record at all. Its event may
// stand in room, until the next line is read into it.
func parse(line []byte, prev string, room *session.Event) (record, error) {
	if r, ok := quick(line, prev, room); ok {
		return r, nil
	}
	return slow(line)
}

// slow reads any line.
func slow(line []byte) (record, error) {
	var r record
	if err := json.Unmarshal(line, &r); err != nil {
		return r, fmt.Errorf("this is no journal line: %s", plain(err))
	}
	said := 0
	for _, there := range []bool{r.Head != nil, r.Trees != "", r.Event != nil && r.Kind != "", r.End != nil, r.Closed != nil} {
		if there {
			said++
		}
	}
	if said != 1 {
		return r, fmt.Errorf("this is no journal line: one of head, trees, event, end and closed is wanted")
	}
	return r, nil
}

func plain(err error) string {
	return strings.TrimPrefix(source.Clean(err.Error()), "json: ")
}
