package source

import "strings"

// nearestMax is the edit distance up to which a word is taken for a slip of
// another one.
const nearestMax = 2

// Nearest gives the word of words closest to word by Damerau's edit distance
// (insert, delete, replace, swap of neighbours), at most 2 and less than the
// word is long; case does not count. On a tie the first of words wins.
func Nearest(word string, words []string) (string, bool) {
	w := []rune(strings.ToLower(word))
	best, found := "", false
	least := nearestMax + 1
	for _, c := range words {
		d := distance(w, []rune(strings.ToLower(c)), least)
		if d < least && d < len(w) {
			best, found, least = c, true, d
		}
	}
	return best, found
}

// distance is the optimal string alignment distance, or limit when it is not
// below limit.
func distance(a, b []rune, limit int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	row := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(b)], limit)
}
