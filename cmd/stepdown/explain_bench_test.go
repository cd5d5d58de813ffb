package main

import (
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// One answer on a call that is five looks old, the model warm: the next answer
// as it comes, and one taken back and given otherwise, which weighs the call
// afresh.
func BenchmarkTurnWithModel(b *testing.B) {
	book := &session.Book{}
	if err := (library{}).fill(book); err != nil {
		b.Fatal(err)
	}
	book.Match = &words{book: book}
	world{model: shared}.attach(book, time.Time{})
	var s session.State
	step := func(e session.Event) {
		var effects []session.Effect
		s, effects = book.Step(s, e)
		for _, x := range effects {
			if x.Problem != nil {
				b.Fatal(x.Problem.Text)
			}
		}
	}
	step(session.Event{Kind: session.Start, Open: &session.Opening{Audience: house.Tech, Equipment: "cool-gas", Complaint: "the ac is not cooling"}})
	step(session.Event{Kind: session.Done})
	for _, a := range []string{"room", "lit", "running"} {
		step(session.Event{Kind: session.Answer, Reply: a})
	}
	b.Run("onward", func(b *testing.B) {
		before := s
		for b.Loop() {
			s = before
			step(session.Event{Kind: session.Answer, Reply: "stopped"})
		}
		s = before
	})
	b.Run("afresh", func(b *testing.B) {
		before, n := s, 0
		for b.Loop() {
			s = before
			step(session.Event{Kind: session.Answer, Reply: []string{"stopped", "humming"}[n%2]})
			n++
		}
		s = before
	})
}
