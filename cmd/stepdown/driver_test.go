package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "refresh what the scripts expect")

// answers is what a call is told, in order: the step that asks, and what is
// said. A question that is not the next in the list is an error.
type answers []struct{ step, said string }

// readAnswers reads lines of `step: answer`; `#` starts a remark.
func readAnswers(text string) (answers, error) {
	var a answers
	for line := range strings.Lines(text) {
		line, _, _ = strings.Cut(line, "#")
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		step, said, ok := strings.Cut(line, ":")
		if !ok {
			return nil, fmt.Errorf("wanted `step: answer`, got %q", line)
		}
		a = append(a, struct{ step, said string }{step, strings.TrimSpace(said)})
	}
	return a, nil
}

// reply implements caller.
func (a *answers) reply(q line) (said, error) {
	if s, ok := hands(q); ok {
		return s, nil
	}
	if len(*a) == 0 {
		return said{}, fmt.Errorf("one question too many: %s (%s)", q.Step, q.Text)
	}
	next := (*a)[0]
	if next.step != q.Step {
		return said{}, fmt.Errorf("%s was asked (%s), where %s should be", q.Step, q.Text, next.step)
	}
	*a = (*a)[1:]
	return spoken(q, next.said)
}

// caller answers the questions of a call.
type caller interface{ reply(line) (said, error) }

// hands carries out what is asked of the hands.
func hands(q line) (said, bool) {
	switch q.Type {
	case "do":
		return said{`{"done":true}`, "done"}, true
	case "caution":
		return said{object("acknowledge", q.Acknowledge), q.Acknowledge}, true
	}
	return said{}, false
}

// spoken words an answer both ways.
func spoken(q line, answer string) (said, error) {
	switch {
	case answer == "unable":
		return said{`{"unable":true}`, "unable"}, nil
	case q.Kind == "text":
		return said{object("text", answer), answer}, nil
	case q.Kind == "measure":
		return readings(q, answer)
	}
	for _, choice := range q.Answers {
		if choice.ID == answer {
			return said{object("answer", answer), answer}, nil
		}
	}
	return said{}, fmt.Errorf("%q is no answer to %s; there are %v", answer, q.Step, q.Answers)
}

// line is one line of the JSON form, as far as a driver needs it.
type line struct {
	Type, Step, Kind, Text, Acknowledge, Finding, Verdict, Code, Call, Urgency string
	Quantity, At, Look                                                         string
	Condemns, Resumed                                                          bool
	Pairs                                                                      []struct{ Name, Red, Black string }
	Answers                                                                    []struct{ ID string }
	Faults                                                                     []string
	Setup                                                                      json.RawMessage
	WaitS                                                                      int `json:"wait-s"`
	Exit                                                                       int
}

func (l line) asks() bool { return l.Type == "ask" || l.Type == "do" || l.Type == "caution" }

// said is one reply: as a program sends it, and as a person types it.
type said struct{ wire, typed string }

// readings reads `26.8` or `yc 0.1 rc 26.8`; `-` is one that cannot be read.
func readings(q line, answer string) (said, error) {
	words := strings.Fields(answer)
	if len(words) == 1 {
		words = []string{q.Pairs[0].Name, words[0]}
	}
	values, typed := map[string]any{}, []string{}
	for i := 0; i+1 < len(words); i += 2 {
		name, word := words[i], words[i+1]
		number, err := strconv.ParseFloat(word, 64)
		switch {
		case word == "-":
			values[name] = nil
			typed = append(typed, name, "unable")
			continue
		case word == "OL":
			values[name] = "OL"
		case err != nil:
			return said{}, fmt.Errorf("%s: %q is no reading", q.Step, word)
		default:
			values[name] = number
		}
		typed = append(typed, name, word)
	}
	if len(values) != len(q.Pairs) {
		return said{}, fmt.Errorf("%s wants %d readings (%v), got %q", q.Step, len(q.Pairs), q.Pairs, answer)
	}
	if len(q.Pairs) == 1 && values[q.Pairs[0].Name] != nil {
		typed = typed[1:]
	}
	return said{object("values", values), strings.Join(typed, " ")}, nil
}

func object(key string, value any) string {
	data, err := json.Marshal(map[string]any{key: value})
	if err != nil {
		panic(err)
	}
	return string(data)
}

// talk is a call under way with the program.
type talk struct {
	cmd   *exec.Cmd // nil inside this process
	in    io.WriteCloser
	out   *bufio.Scanner
	errs  bytes.Buffer
	lines []line
	ended chan int // inside this process, its exit code
}

// shared is the circuit model of all the calls inside this process.
var shared = &model{}

// inside runs the program within this process, so that hundreds of calls work
// the circuit out once.
func inside(ts *testscript.TestScript, args ...string) (*talk, error) {
	stdin, in, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	out, stdout, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	t := &talk{in: in, out: bufio.NewScanner(out), ended: make(chan int, 1)}
	t.out.Buffer(nil, 1<<20)
	state := ts.Getenv("XDG_STATE_HOME")
	env := func(name string) string {
		return map[string]string{"XDG_STATE_HOME": state, "COLUMNS": "400", "LC_ALL": "C.UTF-8"}[name]
	}
	w := world{stdin: stdin, stdout: stdout, stderr: &t.errs, env: env, now: time.Now, model: shared}
	go func() {
		code := run(w, args)
		_, _ = stdin.Close(), stdout.Close()
		t.ended <- code
	}()
	return t, nil
}

// rest is what is still written inside this process, and the exit code.
func (t *talk) rest() (string, int) {
	var b strings.Builder
	for t.out.Scan() {
		b.WriteString(t.out.Text() + "\n")
	}
	_ = t.in.Close()
	return b.String(), <-t.ended
}

// startTalk runs the program on a state folder. The test binary is the
// program when it is called by its name.
func startTalk(state string, args ...string) (*talk, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	t := &talk{cmd: &exec.Cmd{Path: self, Args: append([]string{"stepdown"}, args...)}}
	t.cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+state)
	t.cmd.Stderr = &t.errs
	if t.in, err = t.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := t.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	t.out = bufio.NewScanner(out)
	t.out.Buffer(nil, 1<<20)
	return t, t.cmd.Start()
}

// next reads up to the next question or the end.
func (t *talk) next() (line, error) {
	for t.out.Scan() {
		l, stops, err := parseLine(t.out.Bytes())
		t.lines = append(t.lines, l)
		if stops || err != nil {
			return l, err
		}
	}
	if t.cmd == nil {
		return line{}, fmt.Errorf("the program stopped with %d: %s", <-t.ended, t.errs.String())
	}
	return line{}, fmt.Errorf("the program stopped: %w\n%s", errors.Join(t.out.Err(), t.cmd.Wait()), t.errs.String())
}

// parseLine reads one line; stops is set on a question and on the end.
func parseLine(data []byte) (l line, stops bool, err error) {
	if err := json.Unmarshal(data, &l); err != nil {
		return l, false, fmt.Errorf("not a line of JSON: %q", data)
	}
	if l.Type == "problem" {
		return l, true, fmt.Errorf("a reply was not taken: %s", l.Text)
	}
	return l, l.asks() || l.Type == "end", nil
}

func (t *talk) send(wire string) error {
	_, err := io.WriteString(t.in, wire+"\n")
	return err
}

// questionsMax is where a call that does not end is given up.
const questionsMax = 200

// answer goes on from an open question to the end of the call; it gives what
// was said.
func (t *talk) answer(q line, a caller) ([]said, error) {
	return hold(q, a, func(wire string) (line, error) {
		if err := t.send(wire); err != nil {
			return line{}, err
		}
		return t.next()
	})
}

// hold answers questions until the call ends: say sends one reply and gives
// the next question.
func hold(q line, a caller, say func(wire string) (line, error)) ([]said, error) {
	var all []said
	for range questionsMax {
		if q.Type == "end" {
			return all, nil
		}
		s, err := a.reply(q)
		if err == nil {
			all = append(all, s)
			q, err = say(s.wire)
		}
		if err != nil {
			return all, err
		}
	}
	return all, fmt.Errorf("no end after %d questions", questionsMax)
}

// wait lets the program end and gives its exit code.
func (t *talk) wait() int {
	_ = t.in.Close()
	_ = t.cmd.Wait()
	return t.cmd.ProcessState.ExitCode()
}

// found is the finding among the lines, the zero line where none came.
func found(lines []line) line {
	i := slices.IndexFunc(lines, func(l line) bool { return l.Type == "finding" })
	if i < 0 {
		return line{}
	}
	return lines[i]
}

// lastCall is where a script keeps the finding of its latest call.
const lastCall = "last call"

// callCmd holds a call as a program would, then types the same answers as a
// person, and wants the same finding of both:
//
//	call [--as WHO] [--equipment KIND] … ANSWERS
func callCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: call [flags] answers")
	}
	flags, text := args[:len(args)-1], ts.ReadFile(args[len(args)-1])
	a, err := readAnswers(text)
	ts.Check(err)
	p, err := inside(ts, append([]string{"chat", "--json"}, flags...)...)
	ts.Check(err)
	q, err := p.next()
	ts.Check(err)
	all, err := p.answer(q, &a)
	if err != nil {
		ts.Fatalf("after %v: %v", typedLines(all), err)
	}
	if len(a) > 0 {
		ts.Fatalf("the call ended before %s was asked", a[0].step)
	}
	l := found(p.lines)
	_, l.Exit = p.rest()
	*ts.Value(lastCall).(*line) = l
	title, _, _ := strings.Cut(l.Text, "\n")
	typeCall(ts, flags, typedLines(all), title)
}

func typedLines(all []said) []string {
	var out []string
	for _, s := range all {
		out = append(out, s.typed)
	}
	return out
}

// typeCall types lines into the text form and looks for the finding's title.
func typeCall(ts *testscript.TestScript, flags, lines []string, title string) {
	p, err := inside(ts, append([]string{"chat"}, flags...)...)
	ts.Check(err)
	go func() {
		_, _ = io.WriteString(p.in, strings.Join(lines, "\n")+"\n") // where it ends early, the check below says so
		_ = p.in.Close()
	}()
	out, _ := p.rest() // the exit code is the finding's
	if title == "" || !strings.Contains(out, title) {
		ts.Fatalf("typed as text, the call did not end with %q:\n%s", title, out)
	}
}

// findingCmd checks how the latest call ended: finding ID [VERDICT]
func findingCmd(ts *testscript.TestScript, neg bool, args []string) {
	l := *ts.Value(lastCall).(*line)
	if len(args) == 0 {
		ts.Fatalf("usage: finding ID [verdict]")
	}
	if (l.Finding == args[0]) == neg {
		ts.Fatalf("the call ended at %q: %s", l.Finding, l.Text)
	}
	if len(args) > 1 && l.Verdict != args[1] {
		ts.Fatalf("verdict %q, wanted %q", l.Verdict, args[1])
	}
}

// endedCmd checks the exit code of the latest call: ended CODE
func endedCmd(ts *testscript.TestScript, neg bool, args []string) {
	if l := *ts.Value(lastCall).(*line); (strconv.Itoa(l.Exit) == args[0]) == neg {
		ts.Fatalf("the call ended with exit code %d", l.Exit)
	}
}

// exitsCmd runs a command and wants an exit code: exits CODE COMMAND …
func exitsCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command args")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	got := 0
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, wanted %d", got, want)
	}
}

// latest is the name of the latest call of a script.
func latest(ts *testscript.TestScript) (folder, string) {
	dir := folder(filepath.Join(ts.Getenv("XDG_STATE_HOME"), "stepdown", "calls"))
	names, err := dir.calls()
	ts.Check(err)
	if len(names) == 0 {
		ts.Fatalf("there is no call")
	}
	return dir, names[len(names)-1]
}

// heldLock is where a script keeps the lock that hold took.
const heldLock = "held lock"

// holdCmd opens the latest call as another process would; releaseCmd leaves
// it again.
func holdCmd(ts *testscript.TestScript, _ bool, _ []string) {
	dir, name := latest(ts)
	l, err := dir.lock(name)
	ts.Check(err)
	*ts.Value(heldLock).(**lock) = l
}

func releaseCmd(ts *testscript.TestScript, _ bool, _ []string) {
	(*ts.Value(heldLock).(**lock)).free(false)
}

// tearCmd leaves so many bytes of a next line on the latest call: tear BYTES
func tearCmd(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	edit(ts, func(data []byte) []byte { return append(data, `{"seq":99,"prev":"00000000"}`[:n]...) })
}

// changeCmd changes a word of the latest call: change OLD NEW
func changeCmd(ts *testscript.TestScript, _ bool, args []string) {
	edit(ts, func(data []byte) []byte { return bytes.Replace(data, []byte(args[0]), []byte(args[1]), 1) })
}

func edit(ts *testscript.TestScript, change func([]byte) []byte) {
	dir, name := latest(ts)
	file := dir.path(name + callEnding)
	data, err := os.ReadFile(file)
	ts.Check(err)
	ts.Check(os.WriteFile(file, change(data), 0o600))
}
