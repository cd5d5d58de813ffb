package suspects

// Diagnoses lists the least sets out of n things, of at most most members,
// that explain what was seen; a set that holds one already listed is left out.
// Sets come by size, then in order. explains is told a set in rising order and
// may not keep it.
func Diagnoses(n, most int, explains func(set []int) bool) [][]int {
	var found [][]int
	smaller := 0 // of those found, the ones with fewer members
	set := make([]int, 0, most)
	var grow func(from, left int)
	grow = func(from, left int) {
		if left == 0 {
			if !holdsAny(set, found[:smaller]) && explains(set) {
				found = append(found, append([]int(nil), set...))
			}
			return
		}
		for i := from; i <= n-left; i++ {
			set = append(set, i)
			grow(i+1, left-1)
			set = set[:len(set)-1]
		}
	}
	for size := 0; size <= most; size++ {
		smaller = len(found)
		grow(0, size)
	}
	return found
}

// holdsAny reports whether set holds every member of one of the found.
func holdsAny(set []int, found [][]int) bool {
	for _, f := range found {
		k := 0
		for _, m := range set {
			if k < len(f) && f[k] == m {
				k++
			}
		}
		if k == len(f) {
			return true
		}
	}
	return false
}
