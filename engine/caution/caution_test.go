package caution_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/caution"
)

const sound = `caution: lockout
title: Before a cover comes off
hazard: line voltage
word: locked
text: [Switch off every feed., Lock it.]
sources: ["29 CFR 1910.147(d)(1)-(6)"]
`

func folder(files map[string]string) fstest.MapFS {
	m := fstest.MapFS{}
	for name, text := range files {
		m[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return m
}

func ExampleLoad() {
	set, problems := caution.Load(folder(map[string]string{"lockout.yaml": sound}))
	c, ok := set.Get("lockout")
	fmt.Println(len(problems), ok, c.Title, c.Passes("Locked "), c.Passes("yes"))
	// Output: 0 true Before a cover comes off true false
}

func TestLoadReadsEveryField(t *testing.T) {
	set, problems := caution.Load(folder(map[string]string{"lockout.yaml": sound, "notes.txt": "not read"}))
	if len(problems) != 0 {
		t.Fatal(problems)
	}
	c, _ := set.Get("lockout")
	if c.ID != "lockout" || c.Hazard != "line voltage" || c.Word != "locked" || len(c.Text) != 2 || c.Text[1] != "Lock it." || len(c.Source) != 1 {
		t.Fatalf("read %+v", c)
	}
	if ids := set.IDs(); len(ids) != 1 || ids[0] != "lockout" {
		t.Fatalf("ids %v", ids)
	}
	if _, ok := set.Get("nothing"); ok {
		t.Fatal("an unknown id was found")
	}
}

func TestLoadNamesEachMistakeAtItsPlace(t *testing.T) {
	replace := func(old, new string) string { return strings.Replace(sound, old, new, 1) }
	for name, tc := range map[string]struct{ text, want string }{
		"id":        {replace("caution: lockout", "caution: lock-out"), "lockout.yaml:1:10: caution \"lock-out\" is in a file named \"lockout.yaml\" (caution-id)"},
		"reflex":    {replace("word: locked", "word: okay"), "lockout.yaml:4:7: \"okay\" is typed without reading (caution-word)"},
		"two words": {replace("word: locked", "word: all locked"), "lockout.yaml:4:7: \"all locked\" is not one ordinary word (caution-word)"},
		"no word":   {replace("word: locked\n", ""), "lockout.yaml:1:1: key \"word\" is missing (missing-key)"},
		"no hazard": {replace("hazard: line voltage\n", ""), "lockout.yaml:1:1: key \"hazard\" is missing (missing-key)"},
		"no text":   {replace("[Switch off every feed., Lock it.]", "[]"), "lockout.yaml:5:7: the list is empty and at least one line is wanted (caution-line)"},
		"long line": {replace("Lock it.", strings.Repeat("lock ", 25)), "(caution-line)"},
		"extra key": {sound + "urgent: true\n", "lockout.yaml:7:1: unknown key \"urgent\" (unknown-key)"},
		"no yaml":   {"caution: [", "(yaml-syntax)"},
	} {
		t.Run(name, func(t *testing.T) {
			set, problems := caution.Load(folder(map[string]string{"lockout.yaml": tc.text}))
			if len(problems) == 0 || !strings.Contains(problems.Error(), tc.want) {
				t.Fatalf("want %q, got:\n%s", tc.want, problems.Error())
			}
			if len(set.IDs()) != 0 {
				t.Fatal("a caution with a mistake was kept")
			}
		})
	}
}

func TestTwoCautionsNeverShareAWord(t *testing.T) {
	other := strings.Replace(sound, "caution: lockout", "caution: fuse", 1)
	_, problems := caution.Load(folder(map[string]string{"a.yaml": sound, "fuse.yaml": other, "lockout.yaml": sound}))
	text := problems.Error()
	for _, want := range []string{
		"a.yaml:1:10: caution \"lockout\" is in a file named \"a.yaml\"",
		"lockout.yaml:4:7: the word \"locked\" already belongs to caution \"fuse\" (caution-duplicate)",
	} {
		if !strings.Contains(text, want) {
			t.Fatalf("want %q in:\n%s", want, text)
		}
	}
}

func TestOnlyTheWordPasses(t *testing.T) {
	c := caution.Caution{Word: "locked"}
	for _, typed := range []string{"", "y", "lock", "locked out", "lockedd", "done", "\x00locked"} {
		if c.Passes(typed) {
			t.Errorf("%q passed", typed)
		}
	}
	for _, typed := range []string{"locked", " LOCKED\r\n"} {
		if !c.Passes(typed) {
			t.Errorf("%q did not pass", typed)
		}
	}
	if (caution.Caution{}).Passes("") {
		t.Error("an empty caution was passed by nothing")
	}
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte(sound))
	f.Add([]byte("caution: [\n"))
	f.Add([]byte("text:\n  - \n  - {a: b}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		set, problems := caution.Load(fstest.MapFS{"lockout.yaml": {Data: data}})
		if len(problems) == 0 && len(set.IDs()) != 1 {
			t.Fatal("no problem and no caution")
		}
		_ = problems.Render(3)
	})
}
