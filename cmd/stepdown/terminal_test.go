package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

func TestKeysMend(t *testing.T) {
	for sent, want := range map[string]string{
		"abc\r":             "abc\r",
		"a\x00b\x00":        "ab",
		"\x1b[1~x\x1b[4~":   "\x1b[Hx\x1b[F",
		"\x1b[7~x\x1b[8~":   "\x1b[Hx\x1b[F",
		"\x1b[3~":           string(deleteKey),
		"\x1b[A\x1b[1;5C":   "\x1b[A\x1b[1;5C",
		"26.8 Ω\x1a\x1b[3~": "26.8 Ω" + string(deleteKey),
	} {
		for name, in := range map[string]io.Reader{"whole": strings.NewReader(sent), "byte by byte": iotest.OneByteReader(strings.NewReader(sent))} {
			got, err := io.ReadAll(newKeys(in))
			if err != nil || string(got) != want {
				t.Errorf("%q %s gives %q, %v; want %q", sent, name, got, err, want)
			}
		}
	}
}

func TestColorWanted(t *testing.T) {
	for _, c := range []struct {
		when, no, force string
		tty, want       bool
	}{
		{"auto", "", "", true, true}, {"auto", "", "", false, false},
		{"auto", "1", "", true, false}, {"auto", "1", "1", true, false},
		{"auto", "", "1", false, true}, {"auto", "", "0", false, false},
		{"always", "1", "", false, true}, {"never", "", "1", true, false},
	} {
		env := func(name string) string { return map[string]string{"NO_COLOR": c.no, "FORCE_COLOR": c.force}[name] }
		if got := colorWanted(c.when, env, c.tty); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

func TestUnicodeLocale(t *testing.T) {
	for _, c := range []struct {
		all, ctype, lang string
		want             bool
	}{
		{"", "", "en_US.UTF-8", true}, {"C", "", "en_US.UTF-8", false}, {"", "C.utf8", "C", true}, {"", "", "POSIX", false},
	} {
		env := func(name string) string {
			return map[string]string{"LC_ALL": c.all, "LC_CTYPE": c.ctype, "LANG": c.lang}[name]
		}
		if got := unicodeLocale(env); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// A pipe gets no prompts, no color and no drawing that needs a terminal.
func TestScreenOfPipe(t *testing.T) {
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	defer out.Close()
	s := newScreen(in, out, func(string) string { return "" }, "auto", false)
	if s.edit || s.style.Prompts || s.style.Color || s.out != out {
		t.Errorf("a pipe is taken for %+v", s)
	}
	if w := s.style.Width(); w != 0 {
		t.Errorf("a pipe is %d wide", w)
	}
	wide := newScreen(in, out, func(name string) string { return map[string]string{"COLUMNS": "132"}[name] }, "auto", false)
	if w := wide.style.Width(); w != 132 {
		t.Errorf("COLUMNS is read as %d", w)
	}
}

func TestHistoryIsTrimmedAndPrivate(t *testing.T) {
	name := filepath.Join(t.TempDir(), "history")
	lines := strings.Repeat("old\n", historyMax) + "new\n\x1b[31mred\n"
	if err := os.WriteFile(name, []byte(lines), 0o644); err != nil {
		t.Fatal(err)
	}
	h := openHistory(name)
	if h.add("  ") || !h.add("lit") || h.add("lit") {
		t.Error("a blank line or a line again is kept, or a new one is not")
	}
	if err := h.close(); err != nil {
		t.Fatal(err)
	}
	again := openHistory(name)
	defer again.close()
	if n := len(again.lines); n != historyMax {
		t.Errorf("%d lines kept, want %d", n, historyMax)
	}
	last := again.lines[len(again.lines)-3:]
	if strings.Join(last, "|") != `new|\x1b[31mred|lit` {
		t.Errorf("the last lines are %q", last)
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file is %v, %v", info.Mode(), err)
	}
}
