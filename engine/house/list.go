package house

import (
	"fmt"
	"strings"

	"stepdown/engine/source"
)

// UnknownWord reports a word outside a closed list, with the nearest listed
// word where one is close.
type UnknownWord struct {
	Kind, Word, Nearest string
}

func (e *UnknownWord) Error() string {
	if e.Nearest == "" {
		return fmt.Sprintf("unknown %s %q", e.Kind, e.Word)
	}
	return fmt.Sprintf("unknown %s %q; did you mean %q?", e.Kind, e.Word, e.Nearest)
}

// list is one closed list: the ids of an enumeration in its own order.
type list[T ~uint8] struct {
	kind  string
	ids   []string
	index map[string]T
}

// newList numbers ids from zero; an empty id is a value that cannot be named,
// such as "unknown yet".
func newList[T ~uint8](kind string, ids ...string) list[T] {
	l := list[T]{kind: kind, ids: ids, index: make(map[string]T, len(ids))}
	for i, id := range ids {
		if id != "" {
			l.index[id] = T(i)
		}
	}
	return l
}

func (l list[T]) id(v T) string {
	if int(v) < len(l.ids) {
		return l.ids[v]
	}
	return fmt.Sprintf("%s(%d)", l.kind, uint8(v))
}

func (l list[T]) parse(word string) (T, error) {
	if v, ok := l.index[strings.TrimSpace(word)]; ok {
		return v, nil
	}
	near, _ := source.Nearest(word, l.words())
	return 0, &UnknownWord{Kind: l.kind, Word: word, Nearest: near}
}

// words lists the ids that can be named, in order.
func (l list[T]) words() []string {
	out := make([]string, 0, len(l.ids))
	for _, id := range l.ids {
		if id != "" {
			out = append(out, id)
		}
	}
	return out
}

// all lists the values that can be named, in order.
func (l list[T]) all() []T {
	out := make([]T, 0, len(l.ids))
	for i, id := range l.ids {
		if id != "" {
			out = append(out, T(i))
		}
	}
	return out
}
