package journal_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

var clock = time.Date(2026, 7, 14, 15, 4, 5, 0, time.UTC)

var head = journal.Head{Format: journal.Format, Version: "0.1.0", Started: clock}

// oneOfEach is a call that has every kind of event in it.
func oneOfEach() []session.Event {
	reading := session.Seen{Probe: house.Volts(house.R, house.C, house.AtThermostat), Reading: quantity.Of(26.8)}
	look := session.Seen{Probe: house.LookAt(house.Display), Answer: 1}
	look.Given = house.CoolCall
	return []session.Event{
		{Kind: session.Start, At: clock, Open: &session.Opening{Audience: house.Tech, Equipment: "cool-gas", Complaint: "it <b>blows</b> warm"}},
		{Kind: session.Answer, At: clock.Add(time.Second), Reply: "lit"},
		{Kind: session.Values, Read: map[string]quantity.Reading{"yc": quantity.Of(0.1), "rc": quantity.Of(26.8), "gc": {Missing: true}}},
		{Kind: session.Values, Read: map[string]quantity.Reading{"coil": {OL: true}}},
		{Kind: session.Done},
		{Kind: session.Acknowledge, Reply: "locked"},
		{Kind: session.Unable},
		{Kind: session.Back},
		{Kind: session.Note, Reply: "tape on the cable\nand a “splice”"},
		{Kind: session.Volunteer, Seen: &reading},
		{Kind: session.Volunteer, Seen: &look},
		{Kind: session.Quit},
		{Kind: session.Resume, At: clock.Add(time.Hour)},
		{Kind: session.Text, Reply: "no cooling"},
		{Kind: session.Emergency, Reply: "gas"},
	}
}

func write(t *testing.T, m *memory, events []session.Event, end *journal.End) {
	t.Helper()
	j, err := journal.Create(m, "call.jsonl", head)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range events {
		if i == 1 {
			j.Trees("5d2c8a11")
		}
		if err := j.Append(e); err != nil {
			t.Fatal(err)
		}
	}
	if end != nil {
		if err := j.Finish(*end); err != nil {
			t.Fatal(err)
		}
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	m := newMemory()
	want := journal.Call{Head: head, Trees: "5d2c8a11", Events: oneOfEach(), End: &journal.End{Exit: 1, Finding: "undecided"}}
	write(t, m, want.Events, want.End)
	got, err := journal.Load(m, "call.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	// Seen.Setup is the house as it stood; a replay fills it in again.
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(house.Partial{})); diff != "" {
		t.Errorf("(-written +read)\n%s", diff)
	}
	if !m.folderOK {
		t.Error("the folder was not synced after the file was made: a power cut could lose it")
	}
	if n := m.files["call.jsonl"].Len(); m.synced["call.jsonl"] != n {
		t.Errorf("%d of %d bytes were synced", m.synced["call.jsonl"], n)
	}
}

func TestEveryEventIsOneSyncedWrite(t *testing.T) {
	m := newMemory()
	j, err := journal.Create(m, "call.jsonl", head)
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Append(oneOfEach()[0]); err != nil {
		t.Fatal(err)
	}
	for i, e := range oneOfEach() {
		writes, syncs := m.count["write"], m.count["sync"]
		if err := j.Append(e); err != nil {
			t.Fatal(err)
		}
		if m.count["write"] != writes+1 || m.count["sync"] != syncs+1 {
			t.Errorf("event %d: %d writes and %d syncs, wanted one of each", i, m.count["write"]-writes, m.count["sync"]-syncs)
		}
	}
}

// Cut at every byte of its last line, a journal loses that line at most, the
// cut bytes are kept, and the call can go on.
func TestTornTailIsCutAndKept(t *testing.T) {
	events := oneOfEach()
	whole := newMemory()
	write(t, whole, events, nil)
	data := whole.files["call.jsonl"].Bytes()
	lastLine := bytes.LastIndexByte(data[:len(data)-1], '\n') + 1
	for cut := lastLine; cut < len(data); cut++ {
		m := newMemory()
		m.files["call.jsonl"] = bytes.NewBuffer(bytes.Clone(data[:cut]))
		j, call, err := journal.Resume(m, "call.jsonl")
		if err != nil {
			t.Fatalf("cut at byte %d: %v", cut, err)
		}
		if len(call.Events) != len(events)-1 {
			t.Fatalf("cut at byte %d: %d events left, wanted %d", cut, len(call.Events), len(events)-1)
		}
		if cut > lastLine {
			kept := m.files["call.jsonl.torn"]
			if kept == nil || kept.String() != string(data[lastLine:cut])+"\n" {
				t.Fatalf("cut at byte %d: the torn bytes were not kept: %v", cut, kept)
			}
		}
		if err := j.Append(events[len(events)-1]); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(m.files["call.jsonl"].Bytes(), data) {
			t.Fatalf("cut at byte %d: the call did not go on where it was", cut)
		}
	}
}

func TestGarbageAtTheEndIsATornTail(t *testing.T) {
	for _, tail := range []string{"\x00\x00\x00\x00", "\x00\x00\n\x00\n", "{}\n", `{"seq":99}` + "\n", "null\n", "\n\n"} {
		m := newMemory()
		write(t, m, oneOfEach()[:3], nil)
		m.files["call.jsonl"].WriteString(tail)
		_, call, err := journal.Resume(m, "call.jsonl")
		if err != nil || len(call.Events) != 3 || string(call.Torn) != tail {
			t.Errorf("tail %q: %d events, torn %q, %v", tail, len(call.Events), call.Torn, err)
		}
	}
}

func TestATornTailTwiceKeepsBoth(t *testing.T) {
	m := newMemory()
	write(t, m, oneOfEach()[:3], nil)
	for range 2 {
		m.files["call.jsonl"].WriteString(`{"seq":4,"pr`)
		if _, _, err := journal.Resume(m, "call.jsonl"); err != nil {
			t.Fatal(err)
		}
	}
	want := strings.Repeat(`{"seq":4,"pr`+"\n", 2)
	if got := m.files["call.jsonl.torn"].String(); got != want {
		t.Errorf("kept %q, wanted %q", got, want)
	}
}

func TestDamageInTheMiddleIsRefusedWithItsPlace(t *testing.T) {
	lines := func(m *memory) []string { return strings.SplitAfter(m.files["call.jsonl"].String(), "\n") }
	cases := []struct {
		name  string
		spoil func([]string) []string
		want  string
	}{
		{"a line is garbage", func(l []string) []string { l[2] = "\x1b[31m!\n"; return l }, "call.jsonl:3:1: this is no journal line: invalid character '\\x1b'"},
		{"half a line", func(l []string) []string { l[2] = l[2][:9] + "\n"; return l }, "call.jsonl:3:1: this is no journal line: unexpected end of JSON input"},
		{"an answer was changed", func(l []string) []string { l[3] = strings.Replace(l[3], "lit", "blank", 1); return l }, "call.jsonl:4:1: this line was changed after it was written: the next line carries another checksum (journal-changed)"},
		{"a line is missing", func(l []string) []string { return append(l[:2:2], l[3:]...) }, "call.jsonl:3:1: line number 3 stands where 2 belongs: lines were taken out or put in (journal-changed)"},
		{"a line stands twice", func(l []string) []string { l[3] = l[2]; return l }, "call.jsonl:4:1: line number 2 stands where 3 belongs"},
		{"the head is missing", func(l []string) []string { return l[1:] }, "call.jsonl:1:1: line number 1 stands where 0 belongs"},
		{"nothing at all", func([]string) []string { return nil }, "call.jsonl: nothing was kept of this call"},
		{"half a head", func(l []string) []string { return []string{l[0][:20]} }, "call.jsonl: nothing was kept of this call"},
		{"a later format", func(l []string) []string {
			l[0] = strings.Replace(l[0], `"format":1`, `"format":2`, 1)
			return l[:1]
		}, "call.jsonl:1:1: journal format 2 is not known here; up to 1 is (journal-format)"},
		{"an unknown look", func(l []string) []string { l[12] = strings.Replace(l[12], "display", "displya", 1); return l }, "call.jsonl:13:1: this is no journal line: unknown look \"displya\"; did you mean \"display\"?"},
	}
	for _, c := range cases {
		m := newMemory()
		write(t, m, oneOfEach(), nil)
		spoilt := strings.Join(c.spoil(lines(m)), "")
		m.files["call.jsonl"] = bytes.NewBufferString(spoilt)
		_, _, err := journal.Resume(m, "call.jsonl")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v\nwanted %s", c.name, err, c.want)
			continue
		}
		if strings.ContainsRune(err.Error(), 0x1b) {
			t.Errorf("%s: an escape sequence reached the message: %q", c.name, err)
		}
		if m.files["call.jsonl"].String() != spoilt {
			t.Errorf("%s: a refused journal was changed", c.name)
		}
	}
}

func TestNothingFollowsAnEnd(t *testing.T) {
	m := newMemory()
	write(t, m, oneOfEach()[:2], &journal.End{})
	j, call, err := journal.Resume(m, "call.jsonl")
	if err != nil || call.End == nil {
		t.Fatal(call, err)
	}
	if err := j.Append(oneOfEach()[2]); err != nil {
		t.Fatal(err)
	}
	if _, err := journal.Load(m, "call.jsonl"); err == nil || !strings.Contains(err.Error(), "the call had ended on the line before") {
		t.Errorf("an event after the end was taken: %v", err)
	}
}

// A journal stops at its first failed write, short write or sync, says so
// once in full, and touches the file no more; what was there before is whole.
func TestFirstFailureStopsTheJournal(t *testing.T) {
	events := oneOfEach()
	for _, kind := range []string{"write", "sync", "short"} {
		for n := 1; n <= len(events); n++ {
			m := newMemory()
			if kind == "short" {
				m.shortAt = n
			} else {
				m.failAt[kind] = n
			}
			failed := appendUntilFailure(t, m, events, fmt.Sprintf("%s %d", kind, n))
			call, err := journal.Load(m, "call.jsonl")
			if err != nil && !(failed == 0 && errors.Is(err, journal.ErrNothing)) {
				t.Fatalf("%s %d: %v", kind, n, err)
			}
			least := failed
			if kind == "sync" {
				least++ // written whole; whether it lasts, nobody knows
			}
			if len(call.Events) != least {
				t.Errorf("%s %d: %d events on disk, wanted %d", kind, n, len(call.Events), least)
			}
		}
	}
}

// appendUntilFailure returns the index of the event that failed, having tried
// all that follow too.
func appendUntilFailure(t *testing.T, m *memory, events []session.Event, what string) int {
	t.Helper()
	j, err := journal.Create(m, "call.jsonl", head)
	if err != nil {
		t.Fatal(err)
	}
	failed := -1
	var ops int
	for i, e := range events {
		err := j.Append(e)
		var stop *journal.WriteError
		switch {
		case err == nil && failed < 0:
		case failed < 0 && errors.As(err, &stop) && stop.Name == "call.jsonl":
			failed, ops = i, m.count["write"]+m.count["sync"]
		case failed >= 0 && errors.Is(err, journal.ErrStopped):
		default:
			t.Fatalf("%s: event %d: %v", what, i, err)
		}
	}
	if failed < 0 {
		t.Fatalf("%s: nothing failed", what)
	}
	if now := m.count["write"] + m.count["sync"]; now != ops {
		t.Errorf("%s: %d more operations after the failure", what, now-ops)
	}
	return failed
}

// The head goes to disk with the first event: one write, one sync of the file
// and one of the folder before the first question.
func TestTheFirstEventBringsTheHead(t *testing.T) {
	m := newMemory()
	j, err := journal.Create(m, "call.jsonl", head)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := journal.Load(m, "call.jsonl"); !errors.Is(err, journal.ErrNothing) {
		t.Errorf("before the first event: %v", err)
	}
	if err := j.Append(oneOfEach()[0]); err != nil {
		t.Fatal(err)
	}
	if m.count["write"] != 1 || m.count["sync"] != 1 || m.count["sync-folder"] != 1 {
		t.Errorf("%v, wanted one of each", m.count)
	}
}

func TestAFailureAtTheStartIsSaidAtOnce(t *testing.T) {
	m := newMemory()
	m.failAt["create"] = 1
	if j, err := journal.Create(m, "call.jsonl", head); j != nil || !errors.Is(err, errFull) {
		t.Errorf("create fails: %v", err)
	}
	for _, op := range []string{"write", "sync", "sync-folder"} {
		m := newMemory()
		m.failAt[op] = 1
		j, err := journal.Create(m, "call.jsonl", head)
		if err == nil {
			err = j.Append(oneOfEach()[0])
		}
		if !errors.Is(err, errFull) {
			t.Errorf("%s fails: %v", op, err)
		}
	}
	m = newMemory()
	write(t, m, nil, nil)
	if _, err := journal.Create(m, "call.jsonl", head); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second call under one name: %v", err)
	}
}

// Where the file can be read but not written, the call is there to go on in
// memory; a torn tail that cannot be kept aside is not cut.
func TestResumeOnADiskThatCannotBeWritten(t *testing.T) {
	for _, op := range []string{"append", "create", "write", "sync", "truncate", "sync-folder"} {
		m := newMemory()
		write(t, m, oneOfEach()[:3], nil)
		m.files["call.jsonl"].WriteString(`{"seq"`)
		before := m.files["call.jsonl"].String()
		m.failAt[op] = m.count[op] + 1
		j, call, err := journal.Resume(m, "call.jsonl")
		var stop *journal.WriteError
		if j != nil || !errors.As(err, &stop) || len(call.Events) != 3 {
			t.Errorf("%s fails: %v %v, %d events", op, j, err, len(call.Events))
		}
		if m.files["call.jsonl"].String() != before {
			t.Errorf("%s fails: the journal was cut though its tail was not kept", op)
		}
	}
}

func TestHugeFileIsRefused(t *testing.T) {
	m := newMemory()
	m.files["call.jsonl"] = bytes.NewBuffer(make([]byte, 16<<20+1))
	if _, err := journal.Load(m, "call.jsonl"); err == nil || !strings.Contains(err.Error(), "journal-too-big") {
		t.Error(err)
	}
}

func FuzzLoad(f *testing.F) {
	m := newMemory()
	j, err := journal.Create(m, "call.jsonl", head)
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range oneOfEach() {
		if err := j.Append(e); err != nil {
			f.Fatal(err)
		}
	}
	data := m.files["call.jsonl"].Bytes()
	f.Add(data)
	f.Add(data[:len(data)-7])
	f.Add(bytes.Replace(data, []byte("26.8"), []byte("1e999"), 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		m := newMemory()
		m.files["call.jsonl"] = bytes.NewBuffer(bytes.Clone(data))
		j, call, err := journal.Resume(m, "call.jsonl")
		if err != nil {
			return
		}
		// What was taken must be writable and readable again.
		if call.End == nil {
			if err := j.Append(session.Event{Kind: session.Note}); err != nil {
				t.Fatal(err)
			}
		}
		again, err := journal.Load(m, "call.jsonl")
		if err != nil {
			t.Fatalf("taken once, refused the next time: %v", err)
		}
		if call.End == nil && len(again.Events) != len(call.Events)+1 {
			t.Fatalf("%d events became %d", len(call.Events), len(again.Events))
		}
	})
}
