package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stepdown/engine/diagram"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

func init() { verbs = append(verbs, newDraw) }

func newDraw(w world) *cobra.Command {
	var own, format, out string
	var plain bool
	cmd := &cobra.Command{
		Use:   "draw TREE",
		Short: "Draw a tree, for those who write trees",
		Long: "Draw a complaint's tree: every step once, with where each outcome leads. As text\n" +
			"it fits the screen, on paper 80 columns; as SVG it is one picture that a\n" +
			"browser opens.",
		Example: "  stepdown draw no-cooling\n  stepdown draw no-cooling --format svg -o no-cooling.svg\n  stepdown draw no-cooling --trees my-trees",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return list(house.Complaints()), cobra.ShellCompDirectiveNoFileComp
		},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return usage("as in: stepdown draw no-cooling", "draw takes the name of one tree")
		},
		RunE: func(_ *cobra.Command, args []string) error {
			x, err := library{own}.tree(args[0])
			if err != nil {
				return err
			}
			text, err := w.drawn(diagram.Of(x), format, out, plain)
			if err != nil {
				return err
			}
			return w.deliver(out, []byte(text))
		},
	}
	f := cmd.Flags()
	f.StringVar(&format, "format", "text", "`how`: text or svg")
	f.StringVarP(&out, "output", "o", "", "write to this `file` instead of the screen")
	f.StringVar(&own, "trees", "", "a `folder` of trees over the built-in ones")
	f.BoolVar(&plain, "plain", false, "no lines drawn, for screen readers")
	_ = cmd.RegisterFlagCompletionFunc("format", only(func() []string { return []string{"text", "svg"} })) // a flag of its own
	f.SortFlags = false
	return cmd
}

// tree is one tree of a library, by its name.
func (l library) tree(name string) (*tree.Tree, error) {
	book := &session.Book{}
	if err := l.fill(book); err != nil {
		return nil, err
	}
	var names []string
	for _, t := range book.Trees.InOrder() {
		if t.ID.String() == name {
			return t, nil
		}
		names = append(names, t.ID.String())
	}
	hint := "one of " + strings.Join(names, ", ")
	if near, ok := source.Nearest(name, names); ok {
		hint = "did you mean " + near + "?"
	}
	return nil, usage(hint, "there is no tree %q", name)
}

func (w world) drawn(d diagram.Diagram, format, out string, plain bool) (string, error) {
	switch format {
	case "text":
		style := newScreen(w.stdin, w.stdout, w.env, "never", plain).style
		drawn := diagram.Unicode
		switch {
		case style.Plain:
			drawn = diagram.Linear
		case style.ASCII:
			drawn = diagram.ASCII
		}
		if wide := w.wide(); wide > 0 && out == "" {
			return d.TextWithin(drawn, wide), nil
		}
		return d.Text(drawn), nil
	case "svg":
		var b strings.Builder
		err := d.SVG(&b)
		return b.String(), err
	}
	return "", usage("--format takes text or svg", "there is no format %q", format)
}
