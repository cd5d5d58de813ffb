package quantity

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// Reading is what came back for one measurement: a Value in the base unit of
// its quantity (V, ohm, A), or OL (over limit, ohms only: nothing conducts), or
// Missing (this one cannot be read). At most one of OL and Missing is set and
// Value is then 0. A Value is always finite.
type Reading struct {
	Value   float64
	OL      bool
	Missing bool
}

// Of gives a reading of a value in the base unit.
func Of(value float64) Reading { return Reading{Value: value} }

// Number gives the value, and false for OL and Missing.
func (r Reading) Number() (float64, bool) { return r.Value, !r.OL && !r.Missing }

// Check says whether r can be a reading of q: nil, or one clear line.
func (r Reading) Check(q Quantity) error {
	switch {
	case !q.known():
		return fmt.Errorf("%s is no quantity", q)
	case r.Missing:
		return nil
	case r.OL && q != Resistance:
		return fmt.Errorf("OL is an answer for ohms only; %s are wanted, such as %s", q.Title(), kinds[q].example)
	case r.OL:
		return nil
	case math.IsNaN(r.Value) || math.IsInf(r.Value, 0):
		return fmt.Errorf("that is no number; %s are wanted, such as %s", q.Title(), kinds[q].example)
	case r.Value < 0 && q.AC():
		return fmt.Errorf("%s are never negative; a minus sign means the meter is on DC: set it to AC and read again", q.Title())
	case r.Value < 0 && q == Resistance:
		return fmt.Errorf("ohms are never negative; a minus sign means voltage is still there: check that power is off and read again")
	case math.Abs(r.Value) > q.Max():
		return fmt.Errorf("%s is out of range: the most taken is %s; check the unit and read again",
			Format(r, q), Format(Of(q.Max()), q))
	}
	return nil
}

// MarshalJSON gives a number, "OL", or null for Missing.
func (r Reading) MarshalJSON() ([]byte, error) {
	switch {
	case r.Missing:
		return []byte("null"), nil
	case r.OL:
		return []byte(`"OL"`), nil
	case math.IsNaN(r.Value) || math.IsInf(r.Value, 0):
		return nil, fmt.Errorf("reading %v is no number", r.Value)
	}
	return json.Marshal(r.Value)
}

// UnmarshalJSON reads a number, "OL" or null. The range is Check's business.
func (r *Reading) UnmarshalJSON(data []byte) error {
	data = bytes.TrimSpace(data)
	switch string(data) {
	case "null":
		*r = Reading{Missing: true}
		return nil
	case `"OL"`:
		*r = Reading{OL: true}
		return nil
	}
	v, err := strconv.ParseFloat(string(data), 64)
	if err != nil || len(data) == 0 || data[0] != '-' && (data[0] < '0' || data[0] > '9') {
		return fmt.Errorf(`a reading is a number, "OL" or null, not %s`, shorten(string(data)))
	}
	*r = Reading{Value: v + 0} // -0 becomes 0
	return nil
}
