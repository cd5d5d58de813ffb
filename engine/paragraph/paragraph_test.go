package paragraph_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/paragraph"
)

func ExampleLines() {
	for _, l := range paragraph.Lines("Read it before it lands anywhere.", "  ! ", "    ", 20) {
		fmt.Println(l)
	}
	// Output:
	//   ! Read it before
	//     it lands
	//     anywhere.
}

// Nothing is lost, every line fits, and none could have held the next word.
func TestLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.StringMatching(`[a-zé漢]{1,30}`)).Draw(t, "words"), " ")
		columns := rapid.IntRange(6, 40).Draw(t, "columns")
		lines := paragraph.Lines(text, "- ", "  ", columns)
		var got strings.Builder
		for i, l := range lines {
			if paragraph.Width(l) > columns {
				t.Fatalf("%q is wider than %d", l, columns)
			}
			if i > 0 {
				got.WriteString(strings.TrimPrefix(l, "  "))
			} else {
				got.WriteString(strings.TrimPrefix(strings.TrimPrefix(l, "-"), " "))
			}
		}
		if bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }; bare(got.String()) != bare(text) {
			t.Fatalf("%q became %q", text, lines)
		}
	})
}

func TestLinesOfNothing(t *testing.T) {
	if got := paragraph.Fill("", "  x ", 20); got != "  x\n" {
		t.Errorf("nothing after a lead gives %q", got)
	}
	if n := paragraph.Width("\x1b[31mred\x1b[0m 漢"); n != 6 {
		t.Errorf("%d cells, wanted 6", n)
	}
}
