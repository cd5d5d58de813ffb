package main

import (
	"bytes"
	"io"
	"sync"
)

// deleteKey stands for the Delete key on its way through the line editor: a
// character for private use that no keyboard types.
const deleteKey = '\uE003'

// keys passes key presses on and mends those the line editor takes wrongly:
// the Delete key (see terminal.key), Home and End as some terminals send them,
// NUL bytes, which a Ctrl-D typed while nothing is read leaves behind and which
// would end the input, and Ctrl-Z, at which the editor stops its parent too.
type keys struct {
	in    io.Reader
	held  []byte        // the start of a sequence that the next read goes on with
	out   []byte        // ready to be read
	begun chan struct{} // closed by the first read
	once  sync.Once
}

func newKeys(in io.Reader) *keys { return &keys{in: in, begun: make(chan struct{})} }

// sequences are what a terminal sends and what the editor is given for it.
var sequences = []struct{ sent, given []byte }{
	{[]byte("\x1b[3~"), []byte(string(deleteKey))},
	{[]byte("\x1b[1~"), []byte("\x1b[H")}, {[]byte("\x1b[7~"), []byte("\x1b[H")},
	{[]byte("\x1b[4~"), []byte("\x1b[F")}, {[]byte("\x1b[8~"), []byte("\x1b[F")},
	{[]byte{0}, nil}, {[]byte{0x1a}, nil},
}

// Read never gives nothing without an error: it reads on instead.
func (k *keys) Read(p []byte) (int, error) {
	k.once.Do(func() { close(k.begun) })
	for len(k.out) == 0 {
		buf := make([]byte, 256)
		n, err := k.in.Read(buf)
		k.mend(append(k.held, buf[:n]...))
		if err != nil && len(k.out) == 0 {
			return 0, err
		}
	}
	n := copy(p, k.out)
	k.out = k.out[n:]
	return n, nil
}

// mend puts what was read into out, and keeps the start of a sequence aside.
// The editor itself waits for what follows an Escape, so nothing is late.
func (k *keys) mend(data []byte) {
	k.held = nil
next:
	for i := 0; i < len(data); {
		rest := data[i:]
		for _, s := range sequences {
			switch {
			case bytes.HasPrefix(rest, s.sent):
				k.out = append(k.out, s.given...)
				i += len(s.sent)
				continue next
			case bytes.HasPrefix(s.sent, rest):
				k.held = bytes.Clone(rest)
				return
			}
		}
		k.out = append(k.out, data[i])
		i++
	}
}
