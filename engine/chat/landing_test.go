package chat_test

import (
	"errors"
	"strings"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/session"
)

// check is an aside of one question.
type check struct{ lines []string }

func (k *check) Begin() string            { return "Name each wire.\n" }
func (k *check) Prompt() string           { return "wire > " }
func (k *check) Complete(string) []string { return []string{"wires"} }
func (k *check) Ended() bool              { return len(k.lines) > 0 && k.lines[len(k.lines)-1] == "done" }
func (k *check) OneShot(line string) string {
	k.lines = append(k.lines, line)
	return "Heard " + line + ".\n"
}

// A landing is checked within the call, on its own lines, and the call's
// question stands again after it.
func TestLandingIsCheckedWithinTheCall(t *testing.T) {
	var aside *check
	o := chat.Options{Match: ears{}, Hooks: chat.Hooks{Landing: func() (chat.Aside, error) { aside = &check{}; return aside, nil }}}
	s := asks(display, set)
	c := begun(s, o)
	if text := c.OneShot("landing"); !strings.Contains(text, "Name each wire.") || c.Prompt() != "wire > " || len(c.Complete("")) != 1 {
		t.Fatalf("landing shows\n%s\nprompt %q", text, c.Prompt())
	}
	if text := c.OneShot("red R now R"); text != "Heard red R now R.\n" || len(s.events) != 1 {
		t.Errorf("a wire shows %q, events %v", text, s.events)
	}
	if text := c.OneShot("done"); !strings.Contains(text, "Back to the call.") || !strings.Contains(text, display.Ask.Text) || s.last().Kind != session.Note {
		t.Errorf("the end shows\n%s\nlast event %v", text, s.last())
	}
	if c.OneShot("lit"); s.last().Reply != "lit" {
		t.Errorf("the call did not go on: %v", s.last())
	}

	s = asks(display)
	c = begun(s, o)
	c.OneShot("landing")
	if c.OneShot("there is smoke"); s.last().Kind != session.Emergency || len(aside.lines) != 0 {
		t.Errorf("danger went to the aside: %v", s.last())
	}
}

// Where it cannot be checked, that is said, and the question stands.
func TestLandingRefused(t *testing.T) {
	open := standing
	open.Setup.CoverIndoor = true
	for name, c := range map[string]struct {
		hook func() (chat.Aside, error)
		at   session.House
		want string
	}{
		"no model":   {nil, standing, "no landing can be checked"},
		"open cover": {func() (chat.Aside, error) { return &check{}, nil }, open, "A cover is off"},
		"a failure":  {func() (chat.Aside, error) { return nil, errors.New("the model is gone") }, standing, "the model is gone"},
	} {
		s := asks(display)
		s.house = &c.at
		talk := begun(s, chat.Options{Hooks: chat.Hooks{Landing: c.hook}})
		if text := talk.OneShot("landing"); !strings.Contains(text, c.want) || len(s.events) != 1 {
			t.Errorf("%s: shows %q", name, text)
		}
	}
}
