package caution

import (
	"io/fs"
	"path"
	"sort"
	"strings"

	"stepdown/engine/source"
)

// Caution is one record. Hazard is what can hurt, in a few words, as a ticket
// lists it. Text is lines to show as they are; Source names where each rule
// comes from, a published text or "common practice".
type Caution struct {
	ID, Title    string
	Hazard       string
	Word         string
	Text, Source []string
}

// Passes reports whether what was typed is the caution's word. Case and the
// spaces around it do not matter; anything else does.
func (c Caution) Passes(typed string) bool {
	return c.Word != "" && strings.EqualFold(strings.TrimSpace(typed), c.Word)
}

// Set is the cautions of a folder by id. The zero Set is empty.
type Set struct {
	by map[string]Caution
}

// Get gives the caution with an id.
func (s Set) Get(id string) (Caution, bool) {
	c, ok := s.by[id]
	return c, ok
}

// IDs lists the ids in order.
func (s Set) IDs() []string {
	ids := make([]string, 0, len(s.by))
	for id := range s.by {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

// The codes of the problems this package reports.
const (
	CodeID        = "caution-id"
	CodeWord      = "caution-word"
	CodeLine      = "caution-line"
	CodeDuplicate = "caution-duplicate"
	CodeUnread    = "caution-unread"
)

// Load reads every *.yaml at the root of fsys. The set holds what is sound;
// the problems are everything else, at their places.
func Load(fsys fs.FS) (Set, source.Problems) {
	r := source.NewReporter()
	names, err := fs.Glob(fsys, "*.yaml")
	if err != nil {
		r.Add(source.Pos{File: "."}, CodeUnread, "", "the folder cannot be read: %v", err)
		return Set{}, r.Problems()
	}
	l := loader{r: r, set: Set{by: map[string]Caution{}}, words: map[string]string{}}
	for _, name := range names {
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			r.Add(source.Pos{File: name}, CodeUnread, "", "the file cannot be read: %v", err)
			continue
		}
		l.file(name, data)
	}
	return l.set, r.Problems()
}

type loader struct {
	r     *source.Reporter
	set   Set
	words map[string]string // word to the id that has it
}

func (l *loader) file(name string, data []byte) {
	before := l.r.Len()
	f := source.Parse(name, data, l.r).Fields(l.r, "caution", "title", "hazard", "word", "text", "sources")
	id := f.Need("caution")
	c := Caution{
		ID:     id.String(l.r),
		Title:  f.Need("title").String(l.r),
		Hazard: f.Need("hazard").String(l.r),
		Word:   l.word(f.Need("word")),
		Text:   l.lines(f.Need("text"), lineMax),
		Source: l.lines(f.Need("sources"), sourceMax),
	}
	if want := strings.TrimSuffix(path.Base(name), ".yaml"); c.ID != "" && c.ID != want {
		id.Report(l.r, CodeID, "write caution: "+want+", or rename the file", "caution %q is in a file named %q", c.ID, name)
	}
	if other, taken := l.words[c.Word]; taken && c.Word != "" {
		f.Get("word").Report(l.r, CodeDuplicate, "choose another word, so that nobody types it by habit",
			"the word %q already belongs to caution %q", c.Word, other)
	}
	if l.r.Len() == before {
		l.set.by[c.ID] = c
		l.words[c.Word] = c.ID
	}
}

// reflexes are what people type without reading.
var reflexes = map[string]bool{"y": true, "yes": true, "ok": true, "okay": true, "done": true,
	"no": true, "enter": true, "continue": true, "sure": true, "back": true, "quit": true, "unable": true, "help": true}

// wordMin and wordMax bound a word: long enough to be typed on purpose, short
// enough to be typed in gloves.
const wordMin, wordMax = 3, 12

func (l *loader) word(v *source.Value) string {
	w := v.String(l.r)
	if w == "" {
		return ""
	}
	plain := strings.Trim(w, "abcdefghijklmnopqrstuvwxyz") == ""
	switch {
	case !plain || len(w) < wordMin || len(w) > wordMax:
		v.Report(l.r, CodeWord, "one lower-case word of 3 to 12 letters, such as locked", "%q is not one ordinary word", w)
	case reflexes[w]:
		v.Report(l.r, CodeWord, "a word that names the act, such as locked", "%q is typed without reading", w)
	}
	return w
}

// lineMax keeps a line within three rows of a narrow terminal; a source is
// read by few and may be longer.
const lineMax, sourceMax = 100, 160

func (l *loader) lines(v *source.Value, runesMax int) []string {
	lines := v.Strings(l.r)
	if v != nil && v.Kind == source.List && len(v.Items(l.r)) == 0 {
		v.Report(l.r, CodeLine, "", "the list is empty and at least one line is wanted")
	}
	for i, line := range lines {
		if n := len([]rune(line)); n > runesMax && i < len(v.Items(l.r)) {
			v.Items(l.r)[i].Report(l.r, CodeLine, "cut it in two", "the line has %d characters, the most is %d", n, runesMax)
		}
	}
	return lines
}
