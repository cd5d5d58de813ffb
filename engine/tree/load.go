package tree

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"sort"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// The files of a library that are no trees. Weights belong to the suspects.
const (
	findingsFile = "findings.yaml"
	limitsFile   = "limits.yaml"
	weightsFile  = "weights.yaml"
)

// Load reads and checks every tree: the *.yaml files at the root of base,
// findings.yaml and limits.yaml among them. The files of each overlay replace
// those of the same name or add to them. Where there is any problem there is
// no library.
func Load(base fs.FS, overlays ...fs.FS) (*Library, source.Problems) {
	return load(house.NoComplaint, base, overlays)
}

// LoadOne is Load of one complaint's tree and of those it reaches; the others
// are not read.
func LoadOne(c house.Complaint, base fs.FS, overlays ...fs.FS) (*Library, source.Problems) {
	return load(c, base, overlays)
}

// At names a file system for messages: a problem in its file x.yaml is shown
// in dir/x.yaml.
func At(dir string, files fs.FS) fs.FS { return placed{files, dir} }

type placed struct {
	fs.FS
	dir string
}

// file is one file as read.
type file struct {
	name string // as shown
	data []byte
}

type loader struct {
	r      *source.Reporter
	lib    *Library
	files  map[string]fs.FS // who has the file, by its name
	drafts map[house.Complaint]*draft
}

func load(only house.Complaint, base fs.FS, overlays []fs.FS) (*Library, source.Problems) {
	l := newLoader(base, overlays)
	l.limits(l.parse(limitsFile))
	l.findings(l.parse(findingsFile))
	l.trees(only)
	l.link()
	if problems := l.r.Problems(); len(problems) > 0 {
		return nil, problems
	}
	l.lib.reachable()
	return l.lib, nil
}

func newLoader(base fs.FS, overlays []fs.FS) *loader {
	l := &loader{
		r:      source.NewReporter(),
		files:  map[string]fs.FS{},
		drafts: map[house.Complaint]*draft{},
		lib: &Library{
			Trees:    map[house.Complaint]*Tree{},
			Findings: map[house.Finding]*Finding{},
			Limits:   map[string]Limit{},
		},
	}
	for _, files := range append([]fs.FS{base}, overlays...) {
		l.list(files)
	}
	return l
}

// list notes the files of one file system over those before it.
func (l *loader) list(files fs.FS) {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		l.r.Add(source.Pos{File: shown(files, ".")}, CodeFile, "", "the directory cannot be read: %s", reason(err))
		return
	}
	for _, e := range entries {
		switch name := e.Name(); {
		case e.IsDir():
		case path.Ext(name) == ".yaml":
			l.files[name] = files
		case path.Ext(name) == ".yml":
			l.r.Add(source.Pos{File: shown(files, name)}, CodeFileName, "call it "+strings.TrimSuffix(name, ".yml")+".yaml",
				"only files that end in .yaml are read")
		}
	}
}

func shown(files fs.FS, name string) string {
	if p, ok := files.(placed); ok {
		return path.Join(p.dir, name)
	}
	return name
}

// reason is an error without the path the message names already.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return err.Error()
}

// parse reads one of the files; nil means it is not usable, which is reported.
func (l *loader) parse(name string) *source.Value {
	f, ok := l.read(name)
	if !ok {
		return nil
	}
	if name == findingsFile {
		l.lib.texts = f
	}
	return source.Parse(f.name, f.data, l.r)
}

func (l *loader) read(name string) (file, bool) {
	files, ok := l.files[name]
	if !ok {
		l.r.Add(source.Pos{File: name}, CodeFile, "", "the file is missing")
		return file{}, false
	}
	f := file{name: shown(files, name)}
	pos := source.Pos{File: f.name}
	info, err := fs.Stat(files, name)
	switch {
	case err != nil:
	case !info.Mode().IsRegular(): // a pipe or a device may never end
		l.r.Add(pos, CodeFile, "", "it is no ordinary file")
		return f, false
	case info.Size() > source.SizeMax:
		l.r.Add(pos, source.CodeTooBig, "split it", "the file has %d bytes, the most is %d", info.Size(), source.SizeMax)
		return f, false
	default:
		f.data, err = fs.ReadFile(files, name)
	}
	if err != nil {
		l.r.Add(pos, CodeFile, "", "the file cannot be read: %s", reason(err))
	}
	return f, err == nil
}

// trees reads the trees' files: all of them, or one and those it jumps to.
func (l *loader) trees(only house.Complaint) {
	if only != house.NoComplaint {
		l.treesFrom(only)
		return
	}
	for _, name := range l.treeFiles() {
		l.tree(name, l.parse(name))
	}
}

// treeFiles lists the names of the trees' files.
func (l *loader) treeFiles() []string {
	names := make([]string, 0, len(l.files))
	for name := range l.files {
		if name != findingsFile && name != limitsFile && name != weightsFile {
			names = append(names, name)
		}
	}
	sort.Strings(names)
	return names
}

func (l *loader) treesFrom(first house.Complaint) {
	queue, seen := []house.Complaint{first}, map[house.Complaint]bool{first: true}
	for ; len(queue) > 0; queue = queue[1:] {
		name := queue[0].String() + ".yaml"
		if _, ok := l.files[name]; !ok && queue[0] != first {
			continue // reported where a target names it
		}
		d := l.tree(name, l.parse(name))
		if d == nil {
			continue
		}
		for _, a := range d.arrows {
			if c, err := house.ParseComplaint(a.tree()); err == nil && !seen[c] {
				seen[c] = true
				queue = append(queue, c)
			}
		}
	}
}

// word reports a word that is in none of package house's lists, with the
// nearest or all that may stand there; or another error of reading one.
func (l *loader) word(v *source.Value, code string, err error, all ...string) {
	var u *house.UnknownWord
	if !errors.As(err, &u) {
		v.Report(l.r, code, "", "%s", err)
		return
	}
	hint := didYouMean(u.Word, all)
	if u.Nearest != "" {
		hint = "did you mean " + u.Nearest + "?"
	}
	v.Report(l.r, source.CodeUnknownWord, hint, "unknown %s %q", u.Kind, u.Word)
}

// ids are the words of a closed list.
func ids[T fmt.Stringer](values []T) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = v.String()
	}
	return out
}

func contains[T comparable](in []T, x T) bool {
	for _, y := range in {
		if x == y {
			return true
		}
	}
	return false
}

// didYouMean is the hint for a word outside a list.
func didYouMean(word string, words []string) string {
	if near, ok := source.Nearest(word, words); ok {
		return "did you mean " + near + "?"
	}
	const most = 12
	switch {
	case len(words) == 0:
		return ""
	case len(words) > most:
		return "one of " + strings.Join(words[:most], ", ") + ", ..."
	}
	return "one of " + strings.Join(words, ", ")
}
