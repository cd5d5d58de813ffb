package main

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/prove"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/suspects"
	"stepdown/trees"
)

func init() { verbs = append(verbs, newProve) }

// proveFlags are the flags of prove as typed.
type proveFlags struct {
	trees, equipment, audience, explain string
	json                                bool
	o                                   prove.Options
}

func newProve(w world) *cobra.Command {
	var f proveFlags
	cmd := &cobra.Command{
		Use:   "prove [TREE ...]",
		Short: "Prove the trees on every house the model draws",
		Long: `Prove that the trees can be followed: that every reading has one branch, that
no step is unsafe, that every fault of every modelled house ends where it should
and no good thermostat is condemned. A miss prints the call that shows it.`,
		Example: "  stepdown prove\n  stepdown prove no-cooling --equipment cool-gas --trees my-trees\n  stepdown prove --explain branch-gap",
		RunE:    func(_ *cobra.Command, args []string) error { return w.prove(f, args) },
	}
	cmd.Flags().StringVar(&f.trees, "trees", "", "a folder of trees over the built-in ones")
	cmd.Flags().StringVar(&f.equipment, "equipment", "", "one equipment only")
	cmd.Flags().StringVar(&f.audience, "audience", "", "one audience only: tech, homeowner or dispatcher")
	cmd.Flags().IntVar(&f.o.Draws, "draws", 8, "houses drawn for each equipment besides the corners of the ranges")
	cmd.Flags().IntVar(&f.o.Corners, "corners", 0, "so many of the corners only, for a shorter proof")
	cmd.Flags().Uint64Var(&f.o.Seed, "seed", 1, "seed of the draws")
	cmd.Flags().BoolVar(&f.json, "json", false, "print one JSON object")
	cmd.Flags().StringVar(&f.explain, "explain", "", "say what stands behind a problem's code")
	return cmd
}

func (w world) prove(f proveFlags, args []string) error {
	if f.explain != "" {
		return w.explain(f.explain)
	}
	if err := f.words(args); err != nil {
		return err
	}
	lib, book := library{f.trees}, &session.Book{}
	if err := lib.fill(book); err != nil {
		return err
	}
	for _, c := range f.o.Complaints {
		if book.Trees.Trees[c] == nil {
			return usage("stepdown prove alone proves every tree", "there is no tree %s", c)
		}
	}
	catalog, err := loadCatalog()
	if err != nil {
		return err
	}
	files, err := lib.sources()
	if err != nil {
		return err
	}
	weights, problems := suspects.LoadWeights(trees.FS, "weights.yaml")
	if err := problems.Err(); err != nil {
		return err
	}
	f.o.Prices, f.o.Weights = policy.Minutes(weights.Minutes), weights.Fault
	if err := f.listed(); err != nil {
		return err
	}
	f.o.Workers = runtime.GOMAXPROCS(0)
	defer debug.SetGCPercent(debug.SetGCPercent(gcProof))
	bar := w.bar()
	f.o.Progress = bar.show
	table := forecast.New(catalog, forecast.Options{Draws: forecast.DrawsUsual, Seed: f.o.Seed, Workers: f.o.Workers})
	report, err := prove.Prove(book, table, files, f.o)
	bar.clear()
	if err != nil {
		return err
	}
	for i := range report.Calls {
		if c := &report.Calls[i]; f.trees != "" && len(c.Replay.Lines) > 0 {
			c.Replay.Command += " --trees " + shellWord(f.trees)
		}
	}
	write := report.WriteText
	if f.json {
		write = report.WriteJSON
	}
	if err := write(w.stdout); err != nil {
		return err
	}
	if report.Failed() {
		return ended(exitUndecided)
	}
	return nil
}

// gcProof is the growth, in per cent, after which memory is collected in a
// proof: most of what it holds stays, and going through it takes long.
const gcProof = 300

// shellWord is text as one word of a shell.
func shellWord(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// listed takes what the trees list of themselves: faults that show nothing.
func (f *proveFlags) listed() error {
	f.o.Hidden = map[house.Fault]string{}
	for id, why := range trees.Hidden {
		fault, err := house.ParseFault(id)
		if err != nil {
			return err
		}
		f.o.Hidden[fault] = why
	}
	return nil
}

// words reads the arguments and the flags that are words of the vocabulary.
func (f *proveFlags) words(args []string) error {
	for _, a := range args {
		c, err := house.ParseComplaint(a)
		if err != nil {
			return usage("a tree goes by its complaint's id, such as no-cooling", "%v", err)
		}
		f.o.Complaints = append(f.o.Complaints, c)
	}
	if f.equipment != "" {
		e, err := house.ParseEquipment(f.equipment)
		if err != nil {
			return word(err, "--equipment", equipmentWords())
		}
		if e.Handling() != house.Modelled {
			return usage("--equipment takes "+equipmentWords(), "%s is recognised but not modelled", e)
		}
		f.o.Equipment = e
	}
	if f.audience != "" {
		a, err := house.ParseAudience(f.audience)
		if err != nil {
			return word(err, "--audience", "tech, homeowner or dispatcher")
		}
		f.o.Audiences = []house.Audience{a}
	}
	if f.o.Corners < 0 {
		return usage("--corners takes 1 or more; left out, all are tried", "%d corners cannot be tried", f.o.Corners)
	}
	if f.o.Draws < 0 {
		return usage("--draws takes 0 or more", "%d draws cannot be drawn", f.o.Draws)
	}
	return nil
}

// explain prints what stands behind a code.
func (w world) explain(code string) error {
	text, ok := prove.Explain(code)
	if !ok {
		hint := "one of " + strings.Join(prove.Codes(), ", ")
		if near, is := source.Nearest(code, prove.Codes()); is {
			hint = "did you mean " + near + "?"
		}
		return usage(hint, "no rule has the code %q", code)
	}
	_, err := fmt.Fprint(w.stdout, text)
	return err
}

// sources are the trees' files by the names that problems give them.
func (l library) sources() (map[string][]byte, error) {
	over, err := l.overlays()
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{}
	for _, files := range append([]fs.FS{trees.FS}, over...) {
		names, err := fs.Glob(files, "*.yaml")
		if err != nil {
			return nil, err
		}
		dir := "trees"
		if len(out) > 0 {
			dir = l.own
		}
		for _, name := range names {
			data, err := fs.ReadFile(files, name)
			if err != nil {
				return nil, err
			}
			out[path.Join(dir, name)] = data
		}
	}
	return out, nil
}

// bar is a line of progress on a terminal's stderr, and nothing elsewhere.
type bar struct {
	w     world
	width int // 0 where there is no terminal
	last  int
}

func (w world) bar() *bar {
	b := &bar{w: w, last: -1}
	if f, ok := w.stderr.(*os.File); ok && isatty.IsTerminal(f.Fd()) && w.env("TERM") != "dumb" {
		b.width = barCells
	}
	return b
}

// barCells is the bar's own width.
const barCells = 40

func (b *bar) show(done, total int) {
	percent := 100 * done / max(1, total)
	if b.width == 0 || percent == b.last {
		return
	}
	b.last = percent
	full := b.width * done / max(1, total)
	_, _ = fmt.Fprintf(b.w.stderr, "\r[%s%s] %3d %%  house %d of %d ", strings.Repeat("#", full), strings.Repeat("-", b.width-full), percent, done, total)
}

func (b *bar) clear() {
	if b.width > 0 {
		_, _ = fmt.Fprintf(b.w.stderr, "\r%s\r", strings.Repeat(" ", b.width+40))
	}
}
