package main

import (
	"errors"
	"io"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/chzyer/readline"
	"github.com/mattn/go-isatty"

	"stepdown/engine/chat"
)

// screen is how this run reads from and writes to a person or a pipe.
type screen struct {
	style chat.Style
	edit  bool // lines are edited: both ends are terminals, and not a dumb one
	in    *os.File
	out   io.Writer
}

// newScreen looks at the two streams, the environment and the flags. When is
// auto, always or never; always wins over NO_COLOR, which wins over
// FORCE_COLOR.
func newScreen(in, out *os.File, env func(string) string, when string, plain bool) screen {
	tty := isatty.IsTerminal(out.Fd())
	person := tty && isatty.IsTerminal(in.Fd())
	dumb := env("TERM") == "dumb"
	s := screen{in: in, out: out, edit: person && !dumb && !plain}
	s.style = chat.Style{
		Width:   widthOf(out, env),
		ASCII:   !unicodeLocale(env),
		Plain:   plain || person && dumb,
		Color:   colorWanted(when, env, tty && !dumb && !plain),
		Prompts: person,
	}
	if tty {
		s.out = readline.Stdout
	}
	return s
}

// widthOf asks the terminal each time, since it can be resized; else COLUMNS
// counts, and 0 says unknown.
func widthOf(out *os.File, env func(string) string) func() int {
	return func() int {
		if w, _, err := readline.GetSize(int(out.Fd())); err == nil && w > 0 {
			return w
		}
		w, _ := strconv.Atoi(env("COLUMNS"))
		return w
	}
}

// columns is the width that text is wrapped to where no conversation does it.
func (s screen) columns() int {
	if w := s.style.Width(); w > 0 {
		return min(w, 80)
	}
	return 80
}

// unicodeLocale follows the order in which a locale is looked up.
func unicodeLocale(env func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(env(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin"
}

func colorWanted(when string, env func(string) string, auto bool) bool {
	switch {
	case when == "always":
		return true
	case when == "never", env("NO_COLOR") != "":
		return false
	case env("FORCE_COLOR") != "" && env("FORCE_COLOR") != "0":
		return true
	}
	return auto
}

// open gives the reader of lines; history names its file, empty for none.
func (s screen) open(history string) (chat.LineReader, error) {
	if s.edit {
		return openTerminal(s, history)
	}
	if s.style.Prompts {
		return chat.Lines(s.in, s.out), nil
	}
	return chat.Lines(s.in, nil), nil
}

// terminal edits lines. It mends what the line editor leaves open.
type terminal struct {
	lines    *readline.Instance
	keys     *keys
	input    *readline.CancelableStdin
	history  *history
	width    func() int
	complete func(string) []string
	deleting atomic.Bool // the Delete key was pressed
	once     sync.Once
	closeErr error
}

func openTerminal(s screen, historyFile string) (*terminal, error) {
	t := &terminal{history: openHistory(historyFile), width: func() int { return widthOr80(s.style.Width()) }}
	t.keys = newKeys(readline.Stdin)
	t.input = readline.NewCancelableStdin(t.keys)
	lines, err := readline.NewEx(&readline.Config{
		Stdin:                  t.input,
		Stdout:                 readline.Stdout,
		FuncGetWidth:           t.width, // 0 or less sends the editor into an endless loop
		FuncIsTerminal:         func() bool { return true },
		FuncFilterInputRune:    t.key,
		Listener:               readline.FuncListener(t.listen),
		AutoComplete:           completer{t},
		DisableAutoSaveHistory: true,
		InterruptPrompt:        "^C",
		EOFPrompt:              "\n",
	})
	if err != nil {
		return nil, err
	}
	t.lines = lines
	for _, line := range t.history.lines {
		_ = lines.SaveHistory(line)
	}
	return t, nil
}

func widthOr80(w int) int {
	if w <= 0 {
		return 80
	}
	return w
}

// ReadLine gives one edited line. Ctrl-C clears a line that has something on
// it; on an empty one it gives ErrInterrupted. Ctrl-D on an empty line gives
// io.EOF.
func (t *terminal) ReadLine(prompt string) (string, error) {
	t.lines.SetPrompt(prompt)
	for {
		line, err := t.lines.Readline()
		switch {
		case errors.Is(err, readline.ErrInterrupt) && line != "":
			continue
		case errors.Is(err, readline.ErrInterrupt):
			return "", chat.ErrInterrupted
		}
		return line, err
	}
}

// ReadCounting draws the prompt anew each second until it is the last one, and
// rings then: the person may have looked away.
func (t *terminal) ReadCounting(prompt func() (text string, last bool)) (string, error) {
	text, _ := prompt()
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for {
			select {
			case <-stop:
				return
			case <-tick.C:
			}
			text, last := prompt()
			if last {
				t.lines.Terminal.Bell()
			}
			t.lines.SetPrompt(text)
			t.lines.Refresh()
			if last {
				return
			}
		}
	}()
	line, err := t.ReadLine(text)
	close(stop)
	<-stopped
	return line, err
}

// AddHistory keeps a line for the arrow keys and for the next run.
func (t *terminal) AddHistory(line string) {
	if t.history.add(line) {
		_ = t.lines.SaveHistory(line)
	}
}

// SetComplete names what Tab completes with.
func (t *terminal) SetComplete(f func(line string) []string) { t.complete = f }

// Close restores the terminal; it may be called at any time, and again.
func (t *terminal) Close() error {
	t.once.Do(func() {
		// The editor counts its reader in only once that has begun, and may wait
		// for it before it is counted.
		select {
		case <-t.keys.begun:
		default:
			t.lines.Terminal.KickRead()
			<-t.keys.begun
		}
		// Cancelled before the editor is closed, so that closing during a pending
		// read does not hang.
		_ = t.input.Close()
		t.closeErr = errors.Join(t.lines.Close(), t.history.close())
	})
	return t.closeErr
}

// key is asked about each key. The Delete key must not reach the editor, which
// takes it on an empty line for the end of input: it becomes a key that does
// nothing, and listen deletes.
func (t *terminal) key(r rune) (rune, bool) {
	if r == deleteKey {
		t.deleting.Store(true)
		return readline.CharBell, true
	}
	return r, true
}

func (t *terminal) listen(line []rune, pos int, key rune) ([]rune, int, bool) {
	if !t.deleting.Swap(false) || key != readline.CharBell || pos >= len(line) {
		return nil, 0, false
	}
	return append(line[:pos:pos], line[pos+1:]...), pos, true
}

// completer completes with the words of the open question.
type completer struct{ t *terminal }

// Do implements readline.AutoCompleter. On a screen narrower than a candidate
// the editor divides by zero, so there is then nothing to complete; and a
// panic here would leave the terminal raw.
func (c completer) Do(line []rune, pos int) (out [][]rune, length int) {
	defer func() {
		if recover() != nil {
			out, length = nil, 0
		}
	}()
	if c.t.complete == nil {
		return nil, 0
	}
	typed := string(line[:pos])
	longest := 0
	for _, word := range c.t.complete(typed) {
		longest = max(longest, len([]rune(word)))
		out = append(out, []rune(strings.TrimPrefix(word, typed)))
	}
	if c.t.width() < longest+2 {
		return nil, 0
	}
	return out, pos
}
