package house

import "testing"

// Every word a key says it takes is taken, and read back as the same word.
func TestKeysTakeTheirWords(t *testing.T) {
	for _, k := range Keys() {
		if (len(k.Takes()) == 0) != k.IsList() {
			t.Errorf("%s takes %v", k, k.Takes())
		}
		for _, word := range k.Takes() {
			var p Partial
			if err := p.Set(k, []string{word}); err != nil {
				t.Errorf("%s=%s: %v", k, word, err)
			}
			if got := p.Over(DefaultSetup()).Words(k); len(got) != 1 || got[0] != word {
				t.Errorf("%s=%s is read as %v", k, word, got)
			}
		}
		var p Partial
		if err := p.Set(k, []string{"bogus"}); err == nil {
			t.Errorf("%s=bogus is taken", k)
		}
	}
}
