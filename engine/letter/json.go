package letter

import (
	"encoding/json"
)

// MarshalJSON writes the card for a program.
func (l Letter) MarshalJSON() ([]byte, error) {
	all, some := l.Equipment()
	ids := func(list []string) []string { return append([]string{}, list...) }
	out := struct {
		Letter  string   `json:"letter"`
		Marks   []string `json:"marks"`
		Name    string   `json:"name"`
		Does    string   `json:"does"`
		Goes    []string `json:"goes"`
		Live    string   `json:"live"`
		Colours []string `json:"usual-colours"` // a hint only
		Class   string   `json:"class"`
		In      []string `json:"in"`
		InSome  []string `json:"in-some"`
		Careful []string `json:"careful"`
		Known   string   `json:"known"`
	}{l.Terminal.String(), ids(l.Marks), l.Name, l.Does, l.Goes, l.Live, ids(Colours(l.Terminal)), l.Terminal.Class().String(),
		[]string{}, []string{}, ids(l.Careful), Sort}
	for _, e := range all {
		out.In = append(out.In, e.String())
	}
	for _, e := range some {
		out.InSome = append(out.InSome, e.String())
	}
	return json.Marshal(out)
}
