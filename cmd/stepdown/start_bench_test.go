package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

const helloProgram = `package main

import "os"

func main() { os.Stdout.WriteString("What does the house not do?\n") }
`

// BenchmarkStart measures from the start of the process to the first question,
// call kept on disk, against a program that does nothing but print it. The
// aim is 3 times as long, the most is 5. The two take turns and the fastest run
// of each counts: whatever is slower is other work of the machine. A build for
// a release leaves cgo out, which costs a dynamic load.
func BenchmarkStart(b *testing.B) {
	dir := b.TempDir()
	source := filepath.Join(dir, "hello.go")
	if err := os.WriteFile(source, []byte(helloProgram), 0o600); err != nil {
		b.Fatal(err)
	}
	hello := build(b, dir, "hello", source)
	for _, kind := range []struct {
		name string
		env  []string
	}{{"as-built", nil}, {"release", []string{"CGO_ENABLED=0"}}} {
		own := build(b, dir, "stepdown-"+kind.name, ".", kind.env...)
		b.Run(kind.name, func(b *testing.B) {
			helloTook, ownTook := time.Hour, time.Hour
			for b.Loop() {
				helloTook = min(helloTook, firstQuestion(b, hello, dir))
				ownTook = min(ownTook, firstQuestion(b, own, dir))
			}
			b.ReportMetric(float64(helloTook.Microseconds()), "µs-hello")
			b.ReportMetric(float64(ownTook.Microseconds()), "µs-stepdown")
			b.ReportMetric(float64(ownTook)/float64(helloTook), "times-hello")
		})
	}
}

func build(b *testing.B, dir, name, what string, env ...string) string {
	b.Helper()
	out := filepath.Join(dir, name)
	cmd := exec.Command("go", "build", "-o", out, what)
	cmd.Env = append(os.Environ(), env...)
	if text, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, text)
	}
	return out
}

// firstQuestion is the time until the program has asked.
func firstQuestion(b *testing.B, program, state string) time.Duration {
	b.Helper()
	cmd := exec.Command(program)
	cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+state)
	in, err := cmd.StdinPipe()
	if err != nil {
		b.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	start := time.Now()
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	var seen []byte
	for chunk := make([]byte, 4096); !bytes.Contains(seen, []byte("What does the house not do?")); {
		n, err := out.Read(chunk)
		seen = append(seen, chunk[:n]...)
		if err != nil {
			b.Fatalf("no question in %q: %v", seen, err)
		}
	}
	took := time.Since(start)
	_ = in.Close()
	_ = cmd.Wait() // a call that is left exits 0, hello does too
	return took
}
