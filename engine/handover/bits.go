package handover

import (
	"errors"
	"strings"
)

// bits is a list of numbers, each in as many bits as it needs.
type bits struct {
	data []byte
	n    int // bits written, or read
}

func (b *bits) put(v uint64, width int) {
	for i := width - 1; i >= 0; i-- {
		if b.n%8 == 0 {
			b.data = append(b.data, 0)
		}
		if v>>i&1 == 1 {
			b.data[b.n/8] |= 0x80 >> (b.n % 8)
		}
		b.n++
	}
}

var errShort = errors.New("the code is too short: a part of it is missing")

func (b *bits) take(width int) (uint64, error) {
	if b.n+width > 8*len(b.data) {
		return 0, errShort
	}
	var v uint64
	for range width {
		v = v<<1 | uint64(b.data[b.n/8]>>(7-b.n%8)&1)
		b.n++
	}
	return v, nil
}

// alphabet is base 32 without the letters taken for others: I, L, O and U.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// group is how many characters stand between two dashes.
const group = 4

// write gives the bits, a multiple of five, as characters in groups.
func (b *bits) write() string {
	var out strings.Builder
	r := bits{data: b.data}
	for i := range b.n / 5 {
		if i > 0 && i%group == 0 {
			out.WriteByte('-')
		}
		v, _ := r.take(5)
		out.WriteByte(alphabet[v])
	}
	return out.String()
}

// read takes characters as bits; what stands between them is skipped.
func read(code string) (*bits, error) {
	b := &bits{}
	for _, c := range strings.ToUpper(code) {
		switch c {
		case '-', ' ', '\t', '\n', '\r':
			continue
		case 'O':
			c = '0'
		case 'I', 'L':
			c = '1'
		}
		v := strings.IndexRune(alphabet, c)
		if v < 0 {
			return nil, errors.New("a code has letters and digits only, in groups of four")
		}
		b.put(uint64(v), 5)
	}
	b.n = 0
	return b, nil
}
