package circuit

import "testing"

// TestArrayIsOrthogonal: any two columns show all four pairs equally often, in
// the least rows that can hold them.
func TestArrayIsOrthogonal(t *testing.T) {
	for _, columns := range []int{1, 3, 4, 7, 11, 20, 51, 67, 75, 83} {
		a := arrayOf(columns)
		if int(a) < columns || a.rows()%4 != 0 {
			t.Fatalf("%d columns in an array of %d", columns, a)
		}
		for one := 1; one <= int(a); one++ {
			for two := one + 1; two <= int(a); two++ {
				var met [4]int
				for row := range a.rows() {
					met[2*a.level(row, one)+a.level(row, two)]++
				}
				for _, n := range met {
					if n != a.rows()/4 {
						t.Fatalf("order %d: columns %d and %d meet %v times", a.rows(), one, two, met)
					}
				}
			}
		}
	}
	if got := arrayOf(76).rows(); got != 80 {
		t.Errorf("76 columns take %d rows", got)
	}
}
