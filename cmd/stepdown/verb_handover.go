package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"stepdown/engine/chat"
	"stepdown/engine/handover"
	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/session"
)

func init() { verbs = append(verbs, newHandover) }

func newHandover(w world) *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "handover [CALL]",
		Short: "Hand a call to a technician: a code to read out, or a file",
		Long: "Hand a homeowner's or a dispatcher's call to a technician, who goes on with\n" +
			"stepdown resume CODE, or stepdown resume FILE: nothing is asked twice. The code\n" +
			"holds what was seen and read, no names; the file is the whole record.",
		Example: "  stepdown handover\n  stepdown handover 20260714-1504 -o call.jsonl",
		Args:    oneCall("handover"),
		RunE:    func(_ *cobra.Command, args []string) error { return w.handOver(args, out) },
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "write the record to this `file` instead of a code")
	return cmd
}

func (w world) handOver(args []string, out string) error {
	name, err := w.latest(args)
	if err != nil {
		return err
	}
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	call, err := journal.Load(dir, name+callEnding)
	if err != nil {
		return err
	}
	if out != "" {
		data, err := dir.ReadFile(name + callEnding)
		if err != nil {
			return err
		}
		return w.deliver(out, data[:len(data)-len(call.Torn)])
	}
	book := &session.Book{}
	if err := (library{}).fill(book); err != nil {
		return err
	}
	book.Match = &words{book: book}
	w.attach(book, call.Head.Started)
	h, err := journal.Replay(book, call.Events).State.Handed()
	code := ""
	if err == nil {
		code, err = handover.Code(h)
	}
	if err != nil {
		return usage("a call as a file: stepdown handover "+name+" -o call.jsonl", "%v", err)
	}
	_, err = fmt.Fprintln(w.stdout, code)
	return err
}

// received is a call somebody else began: its events, and the event that hands
// it over.
type received struct {
	events []session.Event
	first  session.Event
}

// receive reads what resume was given: a call kept here, a file, or a code.
// It is no hand-over where a kept call is named without a new audience.
func (w world) receive(args []string, as string) (*received, error) {
	if len(args) == 0 && as == "" {
		return nil, nil
	}
	who := house.Tech
	if as != "" {
		var err error
		if who, err = house.ParseAudience(as); err != nil {
			return nil, word(err, "--as", "tech, homeowner or dispatcher")
		}
	}
	r := &received{first: session.Event{Kind: session.Handover, Open: &session.Opening{Audience: who}}}
	dir, err := w.openFolder()
	if err != nil {
		return nil, err
	}
	if len(args) == 0 || validCall(args[0]) && dir.has(args[0]) {
		if as == "" {
			return nil, nil
		}
		name, err := w.latest(args)
		if err != nil {
			return nil, err
		}
		return r, r.load(dir, name+callEnding)
	}
	if info, err := os.Stat(args[0]); err == nil && !info.IsDir() {
		return r, r.load(folder(filepath.Dir(args[0])), filepath.Base(args[0]))
	}
	if like, err := regexp.MatchString(codeLike, args[0]); err != nil || !like {
		return nil, err // a call's name with a slip in it: resume says so
	}
	h, err := handover.Parse(args[0])
	if err != nil {
		return nil, usage("ask for the code again, or for the call as a file", "%v", err)
	}
	r.first.Handed = &h
	return r, nil
}

// codeLike is what may be meant for a code: groups of four, or all of it in
// one.
const codeLike = `^(?:[0-9A-Za-z]{4}(?:[- ][0-9A-Za-z]{4}){3,}(?:[- ][0-9A-Za-z]{1,3})?|[0-9A-Za-z]{16,})$`

func (f folder) has(name string) bool {
	_, err := os.Stat(f.path(name + callEnding))
	return err == nil
}

func (r *received) load(f folder, name string) error {
	call, err := journal.Load(f, name)
	r.events = call.Events
	return err
}

// takeOver goes on with a call that was handed over, as a new call of its own.
func (w world) takeOver(l look, r *received, d *desk) error {
	lib, book := library{l.trees}, &session.Book{}
	if err := lib.fill(book); err != nil {
		return err
	}
	book.Match = &words{book: book}
	started := w.now()
	guide := w.attach(book, started)
	past := journal.Replay(book, r.events)
	if _, effects := book.Step(past.State, r.first); len(effects) > 0 && effects[0].Problem != nil {
		return usage("stepdown starts a new call", "%s", strings.TrimSuffix(effects[0].Problem.Text, "."))
	}
	rec := w.newRecord(journal.Head{Version: version, Started: started})
	if err := rec.drawn(lib); err != nil {
		return err
	}
	for _, e := range r.events {
		if err := rec.Append(e); err != nil {
			break // said once the call goes on
		}
	}
	talk := &conversation{Held: chat.Hold(book, past.State), guide: guide}
	return w.hold(l, d, talk, book, rec, r.first)
}
