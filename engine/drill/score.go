package drill

import (
	"fmt"
	"math"
)

// What a score is made of, in points.
const (
	pointsRight  = 100
	pointsMinute = 2 // off for each whole minute over the best path
	minutesMost  = 25
	pointsHint   = 5
	pointsSlip   = 15
)

// Pass is the score a lesson is passed with.
const Pass = 70

// Score is what a drill came to.
type Score struct {
	Right bool    `json:"right"`
	Taken float64 `json:"minutes"` // of the path taken
	Best  float64 `json:"best"`    // of the best path, minutes
	Hints int     `json:"hints"`
	// Proven is set where the probes made left one finding, or as few as any
	// probes can.
	Proven bool `json:"proven"`
	// Sure is how likely the probes made the right finding, of the likeliest
	// any probes can make it: 0 to 1, and 1 where it is proven.
	Sure  float64 `json:"sure"`
	Slips int     `json:"slips"`
	Total int     `json:"score"` // 0 to 100
}

// Line is one line of a score's sum.
type Line struct {
	Points int
	Text   string
}

// Mark lays the path taken in a game beside the best one, and works out what its
// verdict scores.
func (c *Coach) Mark(g *Game, v Verdict) (s Score, taken, best Path, err error) {
	if taken, err = c.Taken(g); err != nil {
		return s, taken, best, err
	}
	if best, err = c.Best(g); err != nil {
		return s, taken, best, err
	}
	return Mark(v, taken, best, g.Hints()), taken, best, nil
}

// Mark works a score out. A wrong fault scores nothing, however fast; a right
// one that the probes had not settled yet is a guess, and scores what they made
// it worth.
func Mark(v Verdict, taken, best Path, hints int) Score {
	s := Score{Right: v.Right, Taken: taken.Minutes, Best: best.Minutes, Hints: hints, Proven: taken.Left > 0 && taken.Left <= max(1, best.Left), Slips: len(v.Slips)}
	if s.Sure = 1; !s.Proven {
		s.Sure = min(1, taken.Sure/max(best.Sure, taken.Sure, 1e-9))
	}
	for _, l := range s.Sum() {
		s.Total += l.Points
	}
	s.Total = max(0, s.Total)
	return s
}

// Sum is the score's arithmetic, a line each; where it falls under nothing the
// score is nothing.
func (s Score) Sum() []Line {
	if !s.Right {
		return []Line{{0, "the wrong fault scores nothing"}}
	}
	out := []Line{{pointsRight, "the right fault"}}
	if over := s.over(); over > 0 {
		text := fmt.Sprintf("%s over the best path, %d a minute", counted(over, "minute"), pointsMinute)
		if over == minutesMost {
			text += fmt.Sprintf(", %d at the most", pointsMinute*minutesMost)
		}
		out = append(out, Line{-pointsMinute * over, text})
	}
	if !s.Proven {
		percent := int(100 * s.Sure)
		out = append(out, Line{percent - pointsRight, fmt.Sprintf("named when the probes made it %d %% sure", percent)})
	}
	if s.Hints > 0 {
		out = append(out, Line{-pointsHint * s.Hints, fmt.Sprintf("%s, %d each", counted(s.Hints, "hint"), pointsHint)})
	}
	if s.Slips > 0 {
		out = append(out, Line{-pointsSlip * s.Slips, fmt.Sprintf("%s, %d each", counted(s.Slips, "safety slip"), pointsSlip)})
	}
	return out
}

// over is the whole minutes over the best path that count.
func (s Score) over() int {
	return min(minutesMost, max(0, int(math.Floor(s.Taken-s.Best+1e-9)))) // minutes are tenths; the nudge takes rounding away
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
