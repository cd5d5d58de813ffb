package main

import (
	"io"
	"os"
	"time"
)

// version is the program's own; it is kept in each call's record.
const version = "0.1.0"

// world is what the program needs of the outside.
type world struct {
	stdin, stdout *os.File
	stderr        io.Writer
	env           func(string) string
	now           func() time.Time
	model         *model
}

func main() {
	w := world{stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, env: os.Getenv, now: time.Now, model: &model{}}
	os.Exit(run(w, os.Args[1:]))
}

// run carries out one command line and gives the exit code.
func run(w world, args []string) int {
	root := newRoot(w)
	root.SetArgs(args)
	return w.report(root.Execute())
}
