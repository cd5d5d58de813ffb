//go:build unix

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"

	"stepdown/engine/caution"
	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// TestTerminalChild is no test: the tests below run it as a program on a
// terminal of their own.
func TestTerminalChild(t *testing.T) {
	mode := os.Getenv("STEPDOWN_TERMINAL_CHILD")
	if mode == "" {
		t.Skip("run by the terminal tests only")
	}
	s := newScreen(os.Stdin, os.Stdout, os.Getenv, "auto", mode == "plain")
	lines, err := s.open(os.Getenv("STEPDOWN_HISTORY"))
	if err != nil {
		t.Fatal(err)
	}
	switch mode {
	case "close":
		time.AfterFunc(300*time.Millisecond, func() { _ = lines.Close() })
	case "unread":
		fmt.Println("exit", lines.Close())
		return
	}
	c := chat.New(&firstCall{}, chat.Options{Call: "k3", Style: s.style, Now: time.Now})
	exit, err := c.Loop(session.Event{Kind: session.Start, Open: &session.Opening{}}, lines, s.out)
	if closeErr := lines.Close(); err == nil {
		err = closeErr
	}
	fmt.Println("exit", exit, err)
}

// firstCall asks a few things in turn, whatever is answered.
type firstCall struct{ at int }

var callHouse = session.House{Setup: house.DefaultSetup().With(house.CoolCall)}

var (
	yc = session.Pair{Name: "yc", Red: house.Y, Black: house.C}
	rc = session.Pair{Name: "rc", Red: house.R, Black: house.C}
)

// The batch's second reading is asked for by itself once the first is in.
var callQuestions = []session.Effect{
	{Ask: &session.Ask{Step: "display", Kind: session.AskLook, Look: house.Display, Text: "What does the thermostat's display show?", House: &callHouse,
		Answers: []session.Choice{{ID: "lit", Text: "lit, as usual"}, {ID: "low-battery", Text: "a low-battery sign"}}}},
	{Ask: &session.Ask{Step: "call-at-board", Kind: session.AskMeasure, Text: "Volts AC at the furnace board, cooling called.", Quantity: quantity.ACVolts,
		At: house.AtIndoor, House: &callHouse, Pairs: []session.Pair{yc, rc}}},
	{Ask: &session.Ask{Step: "call-at-board", Kind: session.AskMeasure, Text: "Volts AC at the furnace board, cooling called.", Quantity: quantity.ACVolts,
		At: house.AtIndoor, House: &callHouse, Pairs: []session.Pair{rc}, Given: []session.Pair{yc}}},
	{Caution: &session.CautionEffect{Caution: caution.Caution{ID: "lockout", Title: "Lock out first", Word: "locked"}}},
	{Do: &session.Do{ID: "wait", Text: "Leave it calling.", WaitSeconds: 3, House: callHouse}},
}

func (f *firstCall) Step(e session.Event) []session.Effect {
	switch e.Kind {
	case session.Quit:
		return []session.Effect{{End: &session.End{Kept: true}}}
	case session.Note:
		time.Sleep(500 * time.Millisecond) // a slow answer: keys are typed meanwhile
		return nil
	case session.Start:
	case session.Values:
		f.at += len(e.Read)
	default:
		f.at++
	}
	if q, ok := f.Open(); ok {
		return []session.Effect{q}
	}
	return []session.Effect{{End: &session.End{}}}
}

func (f *firstCall) Open() (session.Effect, bool) {
	if f.at >= len(callQuestions) {
		return session.Effect{}, false
	}
	return callQuestions[f.at], true
}
func (f *firstCall) Why() []string            { return []string{"It tells which way to go."} }
func (f *firstCall) Record() []string         { return nil }
func (f *firstCall) House() session.House     { return callHouse }
func (f *firstCall) Facts() house.Facts       { return house.Facts{Equipment: house.CoolGas} }
func (f *firstCall) Audience() house.Audience { return house.Tech }

// tty is a program on a terminal that can be looked at.
type tty struct {
	t      *testing.T
	master *os.File
	screen vt10x.Terminal
	mu     sync.Mutex
	raw    strings.Builder
	ended  chan error
}

const (
	ctrlC, ctrlD = "\x03", "\x04"
	enter        = "\r"
	deleteSent   = "\x1b[3~"
	home, end    = "\x1b[1~", "\x1b[4~" // as sent under a terminal multiplexer
	up, down     = "\x1b[A", "\x1b[B"
)

// onTTY starts the child on a terminal of so many columns.
func onTTY(t *testing.T, cols int, mode string, env ...string) *tty {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestTerminalChild$")
	cmd.Env = append([]string{"STEPDOWN_TERMINAL_CHILD=" + mode, "TERM=xterm", "LANG=C.UTF-8", "PATH=" + os.Getenv("PATH")}, env...)
	master, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 40, Cols: uint16(cols)})
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	y := &tty{t: t, master: master, screen: vt10x.New(vt10x.WithSize(cols, 40)), ended: make(chan error, 1)}
	go func() {
		_, _ = io.Copy(y, master)
		y.ended <- cmd.Wait()
	}()
	t.Cleanup(func() {
		_ = master.Close()
		_ = cmd.Process.Kill()
	})
	return y
}

// Write takes what the program sends to its terminal.
func (y *tty) Write(p []byte) (int, error) {
	y.mu.Lock()
	y.raw.Write(p)
	y.mu.Unlock()
	return y.screen.Write(p)
}

// look is the screen, without what trails.
func (y *tty) look() string {
	rows := strings.Split(y.screen.String(), "\n")
	for i, r := range rows {
		rows[i] = strings.TrimRight(r, " ")
	}
	return strings.TrimRight(strings.Join(rows, "\n"), "\n")
}

// patience is how long a screen is waited for; a machine under load is slow.
const patience = 20 * time.Second

// until waits for words on the screen.
func (y *tty) until(words string) string {
	y.t.Helper()
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		if s := y.look(); strings.Contains(s, words) {
			return s
		}
	}
	y.t.Fatalf("%q never came; the screen is\n%s", words, y.look())
	return ""
}

func (y *tty) types(keys string) {
	y.t.Helper()
	if _, err := y.master.WriteString(keys); err != nil {
		y.t.Fatal(err)
	}
}

// leaves waits for the program to end, its exit code on screen.
func (y *tty) leaves() string {
	y.t.Helper()
	s := y.until("exit ")
	select {
	case <-y.ended:
	case <-time.After(patience):
		y.t.Fatalf("the program hangs after\n%s", y.look())
	}
	return s
}

// What the call looks like, to the letter.
func TestTerminalLook(t *testing.T) {
	wide := `
  What does the thermostat's display show?
    1 lit          lit, as usual
    2 low-battery  a low-battery sign
  display > 1

  Volts AC at the furnace board, cooling called.
    red on Y, black on C  yc > 0.1
    red on R, black on C  rc > 26.8

  ▲ CAUTION Lock out first
  Type locked to go on, or unable.
  word > locked
  Leave it calling.                                           done`
	narrow := `
  What does the thermostat's display
  show?
    1 lit          lit, as usual
    2 low-battery  a low-battery sign
  display > 1

  Volts AC at the furnace board, cooling
  called.
    red on Y, black on C
  yc > 0.1
    red on R, black on C
  rc > 26.8

  ▲ CAUTION Lock out first
  Type locked to go on, or unable.
  word > locked
  Leave it calling.  done`
	for cols, want := range map[int]string{120: wide, 40: narrow} {
		y := onTTY(t, cols, "chat")
		for _, step := range [][2]string{{"display >", "1"}, {"yc >", "0.1"}, {"rc >", "26.8"}, {"word >", "locked"}} {
			y.until(step[0])
			y.types(step[1] + enter)
		}
		if got := "\n" + strings.TrimLeft(y.until("done"), "\n"); !strings.HasPrefix(got, want) {
			t.Errorf("at %d columns the screen is\n%s\nwant\n%s", cols, got, want)
		}
		y.types(ctrlC + ctrlD)
		y.leaves()
	}
}

func TestTerminalKeys(t *testing.T) {
	y := onTTY(t, 80, "chat")
	y.until("display >")
	y.types(deleteSent + deleteSent + "xit" + home + deleteSent + "l" + end + "!" + "\x7f" + enter)
	y.until("yc >") // Delete on the empty line did not leave; x became l
	y.types("12" + ctrlC)
	y.until("12^C")
	y.types("0.1" + enter)
	if s := y.until("rc >"); strings.Contains(s, "Type quit") {
		t.Errorf("one Ctrl-C did more than clear the line:\n%s", s)
	}
	y.types(ctrlC)
	y.until("Type quit, or Ctrl-D, to leave; the call is kept.")
	y.types(ctrlD)
	if s := y.leaves(); !strings.Contains(s, "stepdown resume k3") || !strings.Contains(s, "exit 0 <nil>") {
		t.Errorf("left with\n%s", s)
	}
}

// Backspace to an empty line and Delete in one packet, as over a slow line.
func TestTerminalDeleteAfterBackspace(t *testing.T) {
	y := onTTY(t, 80, "chat")
	y.until("display >")
	for range 20 {
		y.types("ab\x7f\x7f" + deleteSent)
	}
	y.types("lit" + enter)
	y.until("yc >")
}

func TestTerminalCtrlDWhileBusy(t *testing.T) {
	y := onTTY(t, 80, "chat")
	y.until("display >")
	y.types("note slow" + enter)
	time.Sleep(150 * time.Millisecond) // inside the half second the note takes
	y.types(ctrlD)
	y.until("Noted.")
	y.types("lit" + enter)
	y.until("yc >")
	y.types(ctrlD)
	y.leaves()
}

func TestTerminalCompletes(t *testing.T) {
	y := onTTY(t, 80, "chat")
	y.until("display >")
	y.types("low\t" + enter)
	if s := y.until("yc >"); !strings.Contains(s, "display > low-battery") {
		t.Errorf("not completed:\n%s", s)
	}
	narrow := onTTY(t, 11, "chat")
	narrow.until(">")
	narrow.types("\t\t\t" + down + "\tlit" + enter)
	narrow.until("yc >")
	narrow.types(ctrlD)
	narrow.leaves()
}

// The arrow keys bring lines back, also in the next run, but never a
// caution's word; nobody else can read them.
func TestTerminalHistory(t *testing.T) {
	file := filepath.Join(t.TempDir(), "history")
	y := onTTY(t, 80, "chat", "STEPDOWN_HISTORY="+file)
	for _, step := range [][2]string{{"display >", "lit"}, {"yc >", "0.1"}, {"rc >", "26.8"}, {"word >", "locked"}} {
		y.until(step[0])
		y.types(step[1] + enter)
	}
	y.until("done")
	y.types(ctrlD)
	y.leaves()
	info, err := os.Stat(file)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Fatalf("history file: %v %v", info, err)
	}
	data, _ := os.ReadFile(file)
	if string(data) != "lit\n0.1\n26.8\n" {
		t.Errorf("history is %q", data)
	}
	again := onTTY(t, 80, "chat", "STEPDOWN_HISTORY="+file)
	again.until("display >")
	again.types(up + up + up + enter)
	if s := again.until("yc >"); !strings.Contains(s, "display > lit") {
		t.Errorf("not brought back:\n%s", s)
	}
}

func TestTerminalCountsDown(t *testing.T) {
	y := onTTY(t, 80, "chat")
	for _, step := range [][2]string{{"display >", "lit"}, {"yc >", "0.1 26.8"}, {"word >", "LOCKED"}} {
		y.until(step[0])
		y.types(step[1] + enter)
	}
	y.until("done  0:03 >")
	y.types("don") // what is typed stays while the prompt changes
	y.until("done  0:01 > don")
	y.until("done > don")
	if !strings.Contains(y.sent(), "\a") {
		t.Error("no bell at the end of the wait")
	}
	y.types("e" + enter)
	if s := y.leaves(); !strings.Contains(s, "The call is over.") || strings.Contains(s, "Not waited") {
		t.Errorf("after the wait:\n%s", s)
	}
}

func (y *tty) sent() string {
	y.mu.Lock()
	defer y.mu.Unlock()
	return y.raw.String()
}

func TestTerminalClosesDuringRead(t *testing.T) {
	y := onTTY(t, 80, "close")
	if s := y.leaves(); !strings.Contains(s, "Kept") {
		t.Errorf("closed with\n%s", s)
	}
}

// TestTerminalClosesUnread closes before the first line is asked for.
func TestTerminalClosesUnread(t *testing.T) {
	y := onTTY(t, 80, "unread")
	if s := y.leaves(); !strings.Contains(s, "exit <nil>") {
		t.Errorf("closed with\n%s", s)
	}
}

func TestTerminalColorAndPlain(t *testing.T) {
	for _, c := range []struct {
		mode  string
		env   []string
		color bool
	}{
		{"chat", nil, true}, {"chat", []string{"NO_COLOR=1"}, false}, {"plain", nil, false}, {"chat", []string{"TERM=dumb"}, false},
	} {
		y := onTTY(t, 80, c.mode, c.env...)
		y.until("display >")
		y.types("lit" + enter)
		y.until("yc >")
		if got := strings.Contains(y.sent(), "\x1b[1m") || strings.Contains(y.sent(), "\x1b[31m"); got != c.color {
			t.Errorf("%s %v: color %v, want %v", c.mode, c.env, got, c.color)
		}
		if linear := c.mode == "plain" || len(c.env) > 0 && c.env[0] == "TERM=dumb"; linear && strings.Contains(y.sent(), "\x1b") {
			t.Errorf("%s %v: an escape sequence in linear text", c.mode, c.env)
		}
		y.types(ctrlD)
		y.leaves()
	}
}
