package suspects

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// claims sorts what was claimed by tenths: how often, how sure, how often right.
type claims [10]struct {
	n, right int
	sum      float64
}

func (c *claims) take(p float64, right bool) {
	k := min(9, int(p*10))
	c[k].n++
	c[k].sum += p
	if right {
		c[k].right++
	}
}

// claim is the likeliest finding at this moment, how sure, and whether it is so.
func (c *Call) claim(faults ...house.Fault) (float64, bool) {
	sum := map[house.Finding]float64{}
	var best house.Finding
	for h := range c.hyps {
		f := c.hyps[h].finding
		sum[f] += c.belief.weight[h]
		if comesAndGoes(c.hyps[h].fault) {
			sum[f] += c.belief.weight[len(c.hyps)+h]
		}
		if sum[f] > sum[best] {
			best = f
		}
	}
	for _, f := range faults {
		if best == house.FindingOf(f, c.sheets[0].Kind().Equipment) {
			return sum[best], true
		}
	}
	return sum[best], false
}

// pick draws a fault by its weight.
func pick(w Weights, faults []house.Fault, rng *rand.Rand) house.Fault {
	var sum float64
	for _, f := range faults {
		sum += w.Fault[f]
	}
	u := rng.Float64() * sum
	for _, f := range faults {
		if u -= w.Fault[f]; u <= 0 {
			return f
		}
	}
	return faults[0]
}

// Of the moments at which it says 80 to 90 %, 80 to 90 % are right: a complaint
// and then a fault that shows it, by weight, since that is what the weights say
// of a call; houses from the wider box, one call in ten with a reading wrong,
// every moment after a reading counted.
func TestCalibration(t *testing.T) {
	if testing.Short() {
		t.Skip("many whole calls: left to the run that is not short")
	}
	cat, w := catalog(t), weights(t)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), w)
	draws, ids := trialDraws(cat)
	calls := 30
	if draws == 1 {
		ids, draws = ids[:1], 2
	}
	var table claims
	for _, id := range ids {
		eq := cat.Equipment(id)
		for draw := range draws {
			rng := rand.New(rand.NewPCG(uint64(draw), uint64(id)<<8))
			b, err := circuit.NewBench(eq.Sample(rng, wider))
			if err != nil {
				t.Fatal(err)
			}
			for made := 0; made < calls; {
				about := complaints[rng.IntN(len(complaints))]
				fault := pick(w, eq.Faults(), rng)
				tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{fault}, about: []complaint{about}, unable: -1, wrong: -1, rng: rng}
				if rng.Float64() < w.Slip*5 {
					tr.wrong = rng.IntN(6)
				}
				tr.each = func() {
					p, right := tr.call.claim(fault)
					table.take(p, right)
				}
				if tr.run() {
					made++
				}
			}
		}
	}
	t.Logf("claimed     moments  mean claim  right")
	for k, bin := range table {
		if bin.n == 0 {
			continue
		}
		line := fmt.Sprintf("%2d to %3d %%  %5d    %5.1f %%    %5.1f %%", 10*k, 10*k+10, bin.n, 100*bin.sum/float64(bin.n), 100*float64(bin.right)/float64(bin.n))
		t.Log(line)
		// fewer moments than 200 tell nothing; beyond, a tenth over or under the
		// bin is more than their scatter
		if right := float64(bin.right) / float64(bin.n); bin.n >= 200 && (right < float64(k)/10-.1 || right > float64(k+1)/10+.1) {
			t.Errorf("claimed %d to %d %%, %.1f %% were right", 10*k, 10*k+10, 100*right)
		}
	}
}
