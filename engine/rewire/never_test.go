package rewire_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/rewire"
)

// changed is the catalog with one value's words replaced in values.yaml.
func changed(t *testing.T, from, to string) *circuit.Catalog {
	t.Helper()
	files := fstest.MapFS{}
	names, err := filepath.Glob("../../trees/equipment/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatal("no equipment files", err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		if filepath.Base(name) == "values.yaml" {
			if strings.Count(text, from) != 1 {
				t.Fatalf("%q is not once in %s", from, name)
			}
			text = strings.Replace(text, from, to, 1)
		}
		files[filepath.Base(name)] = &fstest.MapFile{Data: []byte(text)}
	}
	c, problems := circuit.Load(files)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestALandingThatFailsIsNoAnswer: every wire is where it belongs, and the
// transformer is too small, or too weak to pull a coil in: what fails is told
// and no landing.
func TestALandingThatFailsIsNoAnswer(t *testing.T) {
	c := swap(t, house.TwoStagePump, "red R, blue C, yellow Y, purple Y2, green G, orange O, white W2", "R C Y Y2 G O/B W2", rewire.PowerCommon)
	for why, catalog := range map[string]*circuit.Catalog{
		"VA of 20: too much": changed(t, "rated-volt-amperes: {nominal: 40, low: 40, high: 40", "rated-volt-amperes: {nominal: 20, low: 20, high: 40"),
		"does not come on":   changed(t, "series-ohms: {nominal: 1.73, low: 1.2, high: 2.2", "series-ohms: {nominal: 9, low: 1.2, high: 9"),
	} {
		r, err := rewire.New(catalog).Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		if r.State != rewire.Blocked || len(r.Landing) > 0 || !strings.Contains(strings.Join(r.Why, "\n"), why) {
			t.Errorf("%s: %s %v %s", why, r.State, r.Why, landing(r))
		}
		if text := r.Text(); strings.Contains(text, "goes to") || !strings.Contains(text, "NO LANDING") {
			t.Errorf("%s: a landing is printed:\n%s", why, text)
		}
	}
}

// TestLettersThatDisagreeAreReadEvenWhereTheRestDecides: only yellow can be Y,
// since nothing else is; it is read all the same.
func TestLettersThatDisagreeAreReadEvenWhereTheRestDecides(t *testing.T) {
	c := swap(t, house.CoolElectric, "red R R, blue C C, yellow Y G, green G G, white W W", "R C Y G W", rewire.PowerCommon)
	asks(t, "yellow", solve(t, c), "ohms:yellow:blue")
}

// TestNoJumperOnWhatMayBeTheCommon: Y or the common, and no reading can be made:
// it is rung out, and R is joined to nothing.
func TestNoJumperOnWhatMayBeTheCommon(t *testing.T) {
	c := swap(t, house.CoolElectric, "red R R, blue C Y, yellow Y C, green G G, white W W", "R C Y G W", rewire.PowerCommon)
	for _, a := range []string{"blue", "yellow"} {
		for _, b := range []string{"blue", "yellow", "red"} {
			c.Unable = append(c.Unable, "ohms:"+a+":"+b)
		}
	}
	asks(t, "the common or Y", solve(t, c), "ring-out:blue")
}

// TestTheScrewIsALook: a wire nobody knows is looked up at the board of every
// equipment, behind its cover, locked out and proven dead. The other cabinet's
// power is no matter; an ohmmeter between the two ends wants every feed out.
func TestTheScrewIsALook(t *testing.T) {
	for _, id := range catalog().IDs() {
		base := "Rc Rh C Y Y2 G O/B W W2 E L"
		c := straightCase(t, id, base, true)
		c.Conductors = append(c.Conductors, wire(t, "pink"))
		r := solve(t, c)
		if id == house.PumpHeatingValve {
			r = solve(t, readB(t, c, r, 30))
		}
		asks(t, id.String(), r, "board:pink")
		if r.Question == nil {
			continue
		}
		steps, ok := r.Question.Steps(house.Tech, c.Facts())
		at := id.Where(house.AtIndoor).String()
		want := []string{"lock-out-" + at, "open-cover-" + at, "live-dead-live-" + at}
		ids := planIDs(steps)
		for _, w := range want {
			if !slices.Contains(ids, w) {
				t.Errorf("%s: the way lacks %s: %v", id, w, ids)
			}
		}
		if !ok || at == "indoor" && slices.Contains(ids, "lock-out-outdoor") {
			t.Errorf("%s: reached %v by %v", id, ok, ids)
		}
		if _, ok := r.Question.Steps(house.Homeowner, c.Facts()); ok {
			t.Errorf("%s: a homeowner is led behind the cover", id)
		}
	}
	c := swap(t, house.CoolElectric, "red R R, blue C Y, yellow Y C, green G G, white W W", "R C Y G W", rewire.PowerCommon)
	for _, pair := range []string{"blue:red", "yellow:red", "blue:yellow", "yellow:blue"} {
		c.Unable = append(c.Unable, "ohms:"+pair)
	}
	r := solve(t, c)
	asks(t, "the ends disagree", r, "ring-out:blue")
	steps, ok := r.Question.Steps(house.Tech, c.Facts())
	if ids := planIDs(steps); !ok || !slices.Contains(ids, "lock-out-indoor") || !slices.Contains(ids, "lock-out-outdoor") {
		t.Errorf("rung out with a feed on: %v", ids)
	}
}
