package prove

import (
	"fmt"
	"sort"
	"testing"
	"time"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

func TestPhysicsNow(t *testing.T) {
	if *flagSeeds < 0 {
		t.Skip()
	}
	book, cat := embedded(t), catalog(t)
	f := forecast.New(cat, forecast.Options{Draws: 32, Workers: 2})
	o := Options{Draws: *flagSeeds, Seed: 1, Workers: 2}
	if *flagEquipment != "" {
		o.Equipment, _ = house.ParseEquipment(*flagEquipment)
	}
	if *flagComplaint != "" {
		c, _ := house.ParseComplaint(*flagComplaint)
		o.Complaints = []house.Complaint{c}
	}
	start := time.Now()
	p, err := newPhysics(book, f, o)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("stage", time.Since(start))
	sum, err := p.run()
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("run", time.Since(start))
	fmt.Printf("%+v\n", sum.Tally)
	var ms []*miss
	for _, m := range sum.misses {
		ms = append(ms, m)
	}
	sort.Slice(ms, func(a, b int) bool { return ms[a].count > ms[b].count })
	for i, m := range ms {
		if i == 60 {
			break
		}
		fmt.Println(m.count, m.rule.Code, m.pos, m.finding, m.first.fault, m.first.who, m.first.equipment, m.first.draw, m.first.complaint, m.end.side.kind, m.best.List(), "left", m.left.List())
	}
}
