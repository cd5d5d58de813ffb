package journal

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// sameAsSlow: where the quick reader takes a line, it reads what the JSON
// reader does.
func sameAsSlow(t interface{ Fatalf(string, ...any) }, line string) bool {
	var room session.Event
	got, ok := quick([]byte(line), "0a1b2c3d", &room)
	if !ok {
		return false
	}
	want, err := slow([]byte(line))
	if err != nil {
		t.Fatalf("%q is taken, and it is no line: %v", line, err)
	}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(house.Partial{})); diff != "" {
		t.Fatalf("%q (-slow +quick)\n%s", line, diff)
	}
	return true
}

func TestTheQuickReaderTakesWhatIsUsual(t *testing.T) {
	at := time.Date(2026, 7, 14, 15, 4, 5, 678, time.UTC)
	for _, r := range []record{
		{Head: &Head{Format: 1, Version: "0.1.0", Started: at}},
		{Seq: 2, Prev: "0a1b2c3d", Trees: "0cc766a256d2"},
		{Seq: 9, Prev: "ffffffff", End: &End{Exit: 1}},
		{Seq: 9, Prev: "0a1b2c3d", End: &End{Finding: "open-y"}},
	} {
		takenQuickly(t, r)
	}
	for _, e := range []session.Event{
		{Kind: session.Done, At: at},
		{Kind: session.Start, At: at, Open: &session.Opening{Audience: house.Homeowner}},
		{Kind: session.Start, At: at, Open: &session.Opening{Audience: house.Tech, Equipment: "cool-gas", Meter: "both", Complaint: "the ac is not cooling"}},
		{Kind: session.Answer, At: at.In(time.FixedZone("", -5*3600)), Reply: "lit"},
		{Kind: session.Note, Reply: "a <b> & so on"},
		{Kind: session.Values, At: at, Read: map[string]quantity.Reading{"rc": quantity.Of(26.8), "yc": {OL: true}, "gc": {Missing: true}, "x": quantity.Of(-0.1)}},
	} {
		takenQuickly(t, record{Seq: 12, Prev: "0a1b2c3d", Event: &e})
	}
}

func takenQuickly(t *testing.T, r record) {
	t.Helper()
	line, err := r.encode()
	if err != nil {
		t.Fatal(err)
	}
	if !sameAsSlow(t, strings.TrimSuffix(string(line), "\n")) {
		t.Errorf("%s is read slowly", line)
	}
}

// unusual are lines that are left to the JSON reader, or that nobody takes.
var unusual = []string{
	`{"seq":01,"prev":"","event":"done"}`, `{"seq":1,"prev":"","event":""}`, `{"seq":1,"prev":"","event":"done"} `, `{"seq":1,"prev":"","event":"done"`,
	`{"seq":1,"prev":"","event":"note","reply":"a\nb"}`, `{"seq":1,"prev":"","event":"note","reply":"é"}`, `{"seq":1,"prev":"","event":"values","read":{}}`,
	`{"seq":1,"prev":"","event":"values","read":{"a":1.}}`, `{"seq":1,"prev":"","event":"values","read":{"a":.5}}`, `{"seq":1,"prev":"","event":"values","read":{"a":-01}}`,
	`{"seq":1,"prev":"","event":"values","read":{"a":1e3}}`, `{"seq":1,"prev":"","event":"values","read":{"a":1,}}`, `{"seq":1,"prev":"","event":"done","at":"today"}`,
	`{"seq":99999999999999999999,"prev":"","event":"done"}`, `{"seq":1,"prev":"","event":"done","end":{"exit":0}}`, `{"seq":-1,"prev":"","event":"done"}`,
	`{"seq":1,"prev":"","event":"done","at":"2026-07-14T15:04:05Z","at":"2026-07-14T15:04:06Z"}`,
	`{"seq":1,"prev":"","event":"start","open":{"audience":"nobody"}}`, `{"seq":1,"prev":"","event":"start","open":{}}`,
	`{"seq":1,"prev":"","trees":""}`, `{"seq":1,"prev":"","end":{}}`, `{"seq":1,"prev":"","end":{"exit":-1}}`, `{"seq":1,"prev":"","end":{"exit":0},"event":"done"}`,
	`{"seq":0,"prev":"","head":{"format":1,"version":"0.1.0"}}`, `{"seq":0,"prev":"","head":{"format":1,"version":"0.1.0","started":"now"}}`,
}

func TestTheQuickReaderLeavesWhatIsUnusual(t *testing.T) {
	for _, line := range unusual {
		if _, ok := quick([]byte(line), "", new(session.Event)); ok {
			t.Errorf("%s is taken", line)
		}
	}
}

// TestQuickIsSlow over lines spelt from the pieces a line is made of.
func TestQuickIsSlow(t *testing.T) {
	pieces := []string{`{"seq":`, `0`, `7`, `,"prev":"`, `0a1b2c3d`, `","event":"`, `done`, `values`, `"`, `,"at":"`, `2026-07-14T15:04:05Z`,
		`,"end":{"exit":0}`, `"homeowner"`, `,"equipment":"cool-gas"`, `,"trees":"`, `,"head":{`, `,"finding":"open-y"`,
		`,"reply":"`, `lit`, `,"read":{`, `"rc":26.8`, `,`, `"yc":null`, `"g":"OL"`, `-0`, `}`, ` `, `\`}
	taken := 0
	rapid.Check(t, func(rt *rapid.T) {
		line := rapid.SampledFrom([]string{
			`{"seq":3,"prev":"0a1b2c3d","event":"values","at":"2026-07-14T15:04:05Z","reply":"x","read":{"rc":26.8,"yc":-0.10}}`,
			`{"seq":0,"prev":"","head":{"format":1,"version":"0.1.0","started":"2026-07-14T15:04:05Z"}}`,
			`{"seq":9,"prev":"0a1b2c3d","end":{"exit":1,"finding":"open-y"}}`,
			`{"seq":2,"prev":"0a1b2c3d","trees":"0cc766a256d2"}`,
			`{"seq":1,"prev":"0a1b2c3d","event":"start","open":{"audience":"tech","meter":"both","complaint":"no heat"}}`,
		}).Draw(rt, "line")
		for range rapid.IntRange(0, 2).Draw(rt, "changes") {
			i := rapid.IntRange(0, len(line)).Draw(rt, "at")
			cut := rapid.IntRange(0, min(8, len(line)-i)).Draw(rt, "cut")
			line = line[:i] + rapid.SampledFrom(append(pieces, "")).Draw(rt, "piece") + line[i+cut:]
		}
		if sameAsSlow(rt, line) {
			taken++
		}
	})
	if taken == 0 {
		t.Error("no line was taken")
	}
}

func FuzzQuick(f *testing.F) {
	f.Add(`{"seq":3,"prev":"0a1b2c3d","event":"values","at":"2026-07-14T15:04:05Z","read":{"rc":26.8,"yc":null}}`)
	f.Add(`{"seq":3,"prev":"","event":"answer","reply":"lit"}`)
	f.Add(`{"seq":1,"prev":"0a1b2c3d","event":"start","open":{"audience":"tech","meter":"both"}}`)
	f.Add(`{"seq":0,"prev":"","head":{"format":1,"version":"0.1.0","started":"2026-07-14T15:04:05Z"}}`)
	f.Add(`{"seq":9,"prev":"0a1b2c3d","end":{"exit":1,"finding":"open-y"}}`)
	for _, line := range unusual {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) { sameAsSlow(t, line) })
}
