package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"stepdown/engine/journal"
	"stepdown/engine/report"
	"stepdown/engine/session"
)

func init() { verbs = append(verbs, newReport) }

// reportFlags are the flags of report as typed.
type reportFlags struct {
	format, out, who, where, trees string
}

// reportForms are the forms of a report, with the endings of their files.
var reportForms = map[string]func(*report.Report, io.Writer) error{
	"text": (*report.Report).Text, "md": (*report.Report).Markdown, "json": (*report.Report).JSON, "html": (*report.Report).HTML,
}

func newReport(w world) *cobra.Command {
	var f reportFlags
	cmd := &cobra.Command{
		Use:   "report [CALL]",
		Short: "Write a call up: what was read, what it ruled out, what to do",
		Long: "Write a call up, the latest where none is named. In a call, a note that begins\n" +
			"with who: or where: fills those lines, as in: note where: 12 Invented Road",
		Example: "  stepdown report --format html -o call.html\n  stepdown report 20260714-1504 --where '12 Invented Road'",
		Args:    oneCall("report"),
		RunE:    func(_ *cobra.Command, args []string) error { return w.report1(f, args) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.format, "format", "", "`form` to write: text, md, json or html; without it, by the ending of the file")
	flags.StringVarP(&f.out, "output", "o", "", "write to this `file` instead of the screen")
	flags.StringVar(&f.who, "who", "", "whose house it is, or who held the call, as free `text`")
	flags.StringVar(&f.where, "where", "", "where it is, as free `text`")
	flags.StringVar(&f.trees, "trees", "", "the `folder` of trees the call was held on, where they were your own")
	flags.SortFlags = false
	_ = cmd.RegisterFlagCompletionFunc("format", only(func() []string { return []string{"text", "md", "json", "html"} })) // it fails only twice
	return cmd
}

// oneCall is for verbs that take the name of one call, or none.
func oneCall(verb string) func(*cobra.Command, []string) error {
	return func(_ *cobra.Command, args []string) error {
		if len(args) <= 1 {
			return nil
		}
		return usage("stepdown calls lists them", "%s takes one call", verb)
	}
}

// form is the form that is wanted: the one named, else that of the file's
// ending, else text.
func (f reportFlags) form() (string, error) {
	form := f.format
	if form == "" {
		form = strings.TrimPrefix(filepath.Ext(f.out), ".")
		if form == "markdown" {
			form = "md"
		}
		if form == "htm" {
			form = "html"
		}
		if reportForms[form] == nil {
			form = "text"
		}
	}
	if reportForms[form] == nil {
		return "", usage("--format takes text, md, json or html", "unknown form %q after --format", form)
	}
	return form, nil
}

// report1 writes one call up.
func (w world) report1(f reportFlags, args []string) error {
	form, err := f.form()
	if err != nil {
		return err
	}
	name, err := w.latest(args)
	if err != nil {
		return err
	}
	r, err := w.reportOf(library{f.trees}, name, report.Options{Who: f.who, Where: f.where})
	if err != nil {
		return err
	}
	var b bytes.Buffer
	write := reportForms[form]
	if wide := newScreen(w.stdin, w.stdout, w.env, "never", true).columns(); form == "text" && f.out == "" {
		write = func(r *report.Report, b io.Writer) error { return r.TextWithin(b, wide) }
	}
	if err := write(r, &b); err != nil {
		return err
	}
	return w.deliver(f.out, b.Bytes())
}

// latest is the call that is named, or the one started last where none is or
// the word is latest.
func (w world) latest(args []string) (string, error) {
	dir, err := w.openFolder()
	if err != nil {
		return "", err
	}
	if len(args) == 1 && args[0] != "latest" {
		return dir.named(args[0])
	}
	names, err := dir.calls()
	if err != nil {
		return "", err
	}
	if len(names) == 0 {
		return "", usage("stepdown starts one", "no calls are kept yet")
	}
	return names[len(names)-1], nil
}

// reportOf replays a kept call into its report.
func (w world) reportOf(lib library, name string, o report.Options) (*report.Report, error) {
	dir, err := w.openFolder()
	if err != nil {
		return nil, err
	}
	call, err := journal.Load(dir, name+callEnding)
	if err != nil {
		return nil, err
	}
	book := &session.Book{}
	if err := lib.fill(book); err != nil {
		return nil, err
	}
	book.Match = &words{book: book}
	o.Explain = w.attach(book, call.Head.Started)
	facts := journal.Replay(book, call.Events).State.Facts()
	catalog, err := loadCatalog()
	if err != nil {
		return nil, err
	}
	if o.Equipment = catalog.Equipment(facts.Equipment); o.Equipment == nil {
		o.Explain = nil
	}
	return report.Of(book, name, call, o)
}

// deliver writes to the screen, or to a file that is whole or not there: a
// file beside it, synced, then renamed.
func (w world) deliver(name string, data []byte) error {
	if name == "" {
		_, err := w.stdout.Write(data)
		return err
	}
	file, err := os.CreateTemp(filepath.Dir(name), ".stepdown-*")
	if err != nil {
		return usage("name a file in a folder you may write to", "cannot write %s: %v", name, err)
	}
	_, err = file.Write(data)
	if err == nil {
		err = file.Sync()
	}
	if err == nil {
		err = file.Chmod(0o644)
	}
	if err = errors.Join(err, file.Close()); err == nil {
		err = os.Rename(file.Name(), name)
	}
	if err != nil {
		_ = os.Remove(file.Name()) // it is of no use
		return usage("name a file in a folder you may write to", "cannot write %s: %v", name, err)
	}
	if runtime.GOOS == "windows" {
		return nil
	}
	return folder(filepath.Dir(name)).Sync()
}
