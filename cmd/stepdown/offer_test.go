//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// person is somebody at a terminal that edits no lines.
type person struct {
	t    *testing.T
	cmd  *exec.Cmd
	tty  *os.File
	came chan []byte // what comes on the screen; closed at the end
	seen []byte
}

func sitDown(t *testing.T, state string, args ...string) *person {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := &exec.Cmd{Path: self, Args: append([]string{"stepdown"}, args...)}
	cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+state, "TERM=dumb")
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	t.Cleanup(func() { _ = tty.Close() })
	p := &person{t: t, cmd: cmd, tty: tty, came: make(chan []byte, 1024)}
	go p.watch()
	return p
}

// watch hands on what the terminal shows; its file knows no deadline.
func (p *person) watch() {
	defer close(p.came)
	for {
		chunk := make([]byte, 4096)
		n, err := p.tty.Read(chunk)
		p.came <- chunk[:n]
		if err != nil {
			return
		}
	}
}

// reads waits until words stand on the screen.
func (p *person) reads(words string) {
	p.t.Helper()
	late := time.After(2 * time.Minute) // only to say what stood there instead
	for !bytes.Contains(p.seen, []byte(words)) {
		select {
		case chunk, more := <-p.came:
			if p.seen = append(p.seen, chunk...); !more {
				p.t.Fatalf("%q never came; the screen was\n%s", words, p.seen)
			}
		case <-late:
			p.t.Fatalf("%q never came; the screen is\n%s", words, p.seen)
		}
	}
}

func (p *person) types(line string) {
	p.t.Helper()
	if _, err := p.tty.WriteString(line + "\n"); err != nil {
		p.t.Fatal(err)
	}
}

// leaves ends the input and gives the exit code.
func (p *person) leaves() int {
	_, _ = p.tty.WriteString("\x04")
	_ = p.cmd.Wait()
	return p.cmd.ProcessState.ExitCode()
}

// leave starts a call and leaves it at its second question.
func leave(t *testing.T, state string) {
	t.Helper()
	talk := begin(t, state, "chat", "--json", "--complaint", "the ac is not cooling")
	if _, err := talk.next(); err != nil {
		t.Fatal(err)
	}
	if code := talk.wait(); code != exitDone {
		t.Fatalf("left with exit code %d", code)
	}
}

func TestAnUnfinishedCallIsOfferedToAPerson(t *testing.T) {
	state := t.TempDir()
	leave(t, state)
	for _, c := range []struct{ answer, next string }{
		{"n", "Say it in your own words"}, // a new call, left with nothing said: it is not offered in turn
		{"y", "What kind of system is it?"},
		{"", "Say it in your own words"},
		{"no thanks", "Say it in your own words"},
		{"the house does not heat", "Taken as: The house does not heat."}, // said once is enough
	} {
		p := sitDown(t, state)
		p.reads("was left open")
		p.reads("Go on with it?")
		p.types(c.answer)
		p.reads(c.next)
		if code := p.leaves(); code != exitDone {
			t.Errorf("after %q: exit code %d", c.answer, code)
		}
	}
}

func TestTheOfferGoesOnWithTheCall(t *testing.T) {
	state := t.TempDir()
	leave(t, state)
	p := sitDown(t, state)
	p.reads("was left open: the ac is not cooling")
	p.types("y")
	p.reads("What kind of system is it?")
	p.leaves()
	if n := strings.Count(string(p.seen), "Say it in your own words"); n != 0 {
		t.Errorf("the complaint was asked again:\n%s", p.seen)
	}
}

// Who says on the command line what to do is not asked.
func TestFlagsStartANewCallUnasked(t *testing.T) {
	state := t.TempDir()
	leave(t, state)
	p := sitDown(t, state, "--as", "tech")
	p.reads("Say it in your own words")
	p.leaves()
	if bytes.Contains(p.seen, []byte("was left open")) {
		t.Errorf("a call was offered:\n%s", p.seen)
	}
}

// A signal leaves in order: the call is kept, the way back is said, and the
// exit code names the signal.
func TestSignalsKeepTheCall(t *testing.T) {
	for got, code := range map[syscall.Signal]int{syscall.SIGINT: exitInterrupt, syscall.SIGTERM: exitTerminated} {
		p := sitDown(t, t.TempDir())
		p.reads("Say it in your own words")
		if err := p.cmd.Process.Signal(got); err != nil {
			t.Fatal(err)
		}
		p.reads("kept; go on with: stepdown resume ")
		_ = p.cmd.Wait()
		if exit := p.cmd.ProcessState.ExitCode(); exit != code {
			t.Errorf("%v: exit code %d, wanted %d", got, exit, code)
		}
	}
}
