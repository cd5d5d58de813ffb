package source

import "gopkg.in/yaml.v3"

// depthMax bounds nesting; our deepest file needs about ten.
const depthMax = 64

// walker turns the library's nodes into Values and reports what we refuse.
type walker struct {
	name  string
	lines []string
	r     *Reporter
	deep  bool // depthMax was passed: reported once, and nothing is usable
}

func (w *walker) value(n *yaml.Node, depth int) *Value {
	v := &Value{Pos: Pos{w.name, n.Line, n.Column}, lines: w.lines}
	if depth > depthMax {
		if !w.deep {
			w.r.Add(v.Pos, CodeTooDeep, "flatten it", "nested more than %d deep", depthMax)
		}
		w.deep = true
		return v
	}
	w.refuse(n, v.Pos)
	switch n.Kind {
	case yaml.MappingNode:
		v.Kind = Map
		w.entries(v, n, depth)
	case yaml.SequenceNode:
		v.Kind = List
		for _, c := range n.Content {
			v.items = append(v.items, w.value(c, depth+1))
		}
	case yaml.ScalarNode:
		w.scalar(v, n)
	}
	return v
}

func (w *walker) scalar(v *Value, n *yaml.Node) {
	v.Text = n.Value
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		v.Style = DoubleQuoted
	case n.Style&yaml.SingleQuotedStyle != 0:
		v.Style = SingleQuoted
	case n.Style&yaml.LiteralStyle != 0:
		v.Style = Literal
	case n.Style&yaml.FoldedStyle != 0:
		v.Style = Folded
	}
	v.Kind = Scalar
	if v.Style == Plain && n.ShortTag() == "!!null" {
		v.Kind, v.Text = Null, ""
	}
}

// refuse reports anchors, aliases and tags. The library drops a bare "!" tag,
// so the source itself is asked what stands where the node starts.
func (w *walker) refuse(n *yaml.Node, pos Pos) {
	first := w.runeAt(pos)
	switch {
	case n.Kind == yaml.AliasNode:
		w.r.Add(pos, CodeAlias, "write the value out", "aliases are not read")
	case n.Anchor != "":
		w.r.Add(pos, CodeAnchor, "remove it", "anchors are not read")
	case n.Style&yaml.TaggedStyle != 0 || first == '!':
		w.r.Add(pos, CodeTag, "put the text in quotes", "tags are not read, and text starting with ! is one")
	}
}

func (w *walker) runeAt(pos Pos) rune {
	if pos.Line < 1 || pos.Line > len(w.lines) {
		return 0
	}
	col := 1
	for _, c := range w.lines[pos.Line-1] {
		if col == pos.Col {
			return c
		}
		col++
	}
	return 0
}

func (w *walker) entries(v *Value, n *yaml.Node, depth int) {
	seen := map[string]Pos{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := w.value(n.Content[i], depth+1), w.value(n.Content[i+1], depth+1)
		if key.Kind != Scalar || key.Text == "" {
			if n.Content[i].Kind != yaml.AliasNode && !w.deep {
				key.Report(w.r, CodeKey, "", "a key is one word, not %s", key.Kind)
			}
			continue
		}
		if key.Style == Plain && key.Text == "<<" {
			key.Report(w.r, CodeMerge, "write the keys out", "merge keys are not read")
			continue
		}
		if first, dup := seen[key.Text]; dup {
			key.Report(w.r, CodeDuplicate, "", "key %q is already given on line %d", key.Text, first.Line)
			continue
		}
		seen[key.Text] = key.Pos
		v.entries = append(v.entries, Entry{key, value})
	}
}
