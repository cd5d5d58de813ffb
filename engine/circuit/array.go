package circuit

// array is an orthogonal array of strength two with two levels: in the rows any
// two of its columns show all four pairs equally often. It is named by the
// prime q, of the form 4k + 3, from which Paley built a Hadamard matrix of order
// q + 1 (R. E. A. C. Paley, On orthogonal matrices, Journal of Mathematics and
// Physics 12, 1933; from memory): q columns, numbered from 1, in q + 1 rows. No
// such array has fewer rows than one more than its columns.
type array int

// arrayOf is the smallest with so many columns at the least.
func arrayOf(columns int) array {
	q := max(3, columns)
	for q%4 != 3 || !prime(q) {
		q++
	}
	return array(q)
}

func (a array) rows() int { return int(a) + 1 }

// level is 0 or 1 in a row, 0 to q, and a column, 1 to q: after a row of ones,
// 1 where the row less the column is no square modulo q.
func (a array) level(row, column int) int {
	if row == 0 {
		return 1
	}
	q := int(a)
	difference := (row - column + q) % q
	for x := range q/2 + 1 {
		if x*x%q == difference {
			return 0
		}
	}
	return 1
}

func prime(n int) bool {
	for d := 2; d*d <= n; d++ {
		if n%d == 0 {
			return false
		}
	}
	return n > 1
}
