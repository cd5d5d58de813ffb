package quantity

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
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

// Check says whether r can be a reading of q: nil, or one clear line that says
// what was read, what is wanted and an example.
func (r Reading) Check(q Quantity) error {
	if !q.known() {
		return fmt.Errorf("%s is no quantity", q)
	}
	if why := r.unfit(q); why != "" {
		return fmt.Errorf("%s %s; %s are wanted, such as %s", Format(r, q), why, q.Title(), kinds[q].example)
	}
	return nil
}

// unfit says why r is no reading of q, worded to follow what was read; empty
// where it is one.
func (r Reading) unfit(q Quantity) string {
	switch {
	case r.Missing:
		return ""
	case r.OL && q != Resistance:
		return "is an answer for ohms only: set the meter to " + meterSetting(q) + " and read again"
	case r.OL:
		return ""
	case math.IsNaN(r.Value) || math.IsInf(r.Value, 0):
		return "is not a number"
	case r.Value < 0 && q != DCVolts:
		return negative(q)
	case math.Abs(r.Value) > q.Max():
		return tooMuch(q)
	}
	return ""
}

func meterSetting(q Quantity) string {
	switch q {
	case DCVolts:
		return "DC"
	case Resistance:
		return "ohms"
	}
	return "AC"
}

func negative(q Quantity) string {
	if q == Resistance {
		return "is negative, so voltage may still be there: check that power is off and read again"
	}
	return "is negative, so the meter may be on DC: set it to AC and read again"
}

func tooMuch(q Quantity) string {
	return "is over the most taken, " + Format(Of(q.Max()), q) + ": check the unit and read again"
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
	if err != nil || strings.Trim(string(data), "0123456789+-.eE") != "" || data[0] == '+' {
		return fmt.Errorf(`a reading is a number, "OL" or null, not %s`, shorten(string(data)))
	}
	*r = Reading{Value: v + 0} // -0 becomes 0
	return nil
}
