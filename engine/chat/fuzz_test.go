package chat_test

import (
	"strings"
	"testing"
	"unicode"

	"stepdown/engine/chat"
	"stepdown/engine/session"
)

// FuzzLine types anything at every kind of question: no panic, and nothing raw
// comes back.
func FuzzLine(f *testing.F) {
	for _, seed := range []string{"lit", "yc 0.1 rc 26.8", "R to G at the thermostat is 0", "amps on Y at indoor is .4", "note \x1b]0;x\x07", "r-c mode=off,off lifted=Y@indoor 3", "26,8,9", "@", "-", "="} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, line string) {
		for _, q := range []session.Effect{emergency, words, display, set, lockout, board, coil} {
			c := begun(asks(q, display), chat.Options{Match: ears{}, Style: chat.Style{Width: cells(40)}})
			c.Complete(line)
			text := c.OneShot(line) + c.Prompt()
			if strings.ContainsFunc(text, func(r rune) bool { return r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) }) {
				t.Fatalf("%q shows %q", line, text)
			}
		}
	})
}
