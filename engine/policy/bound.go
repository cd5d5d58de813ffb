package policy

import (
	"math"
	"slices"
	"sort"
)

// Entropy is the information, in bits, missing about a state of weights p,
// which need not sum to 1.
func Entropy(p []float64) float64 {
	var sum, plogp float64
	for _, x := range p {
		sum += x
		plogp += xlog2(x)
	}
	if sum <= 0 {
		return 0
	}
	return math.Log2(sum) - plogp/sum
}

// xlog2 is x·log₂x, 0 at 0.
func xlog2(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return x * math.Log2(x)
}

// EntropyBound is the least number of tests of at most outcomes outcomes each
// that can tell the states apart on average: H/log₂K.
func EntropyBound(p []float64, outcomes int) float64 {
	if outcomes < 2 {
		return math.Inf(1)
	}
	return Entropy(p) / math.Log2(float64(outcomes))
}

// Huffman is the least average number of two-way tests that can tell the
// states apart, were every test to be had: the cost of Huffman's code.
func Huffman(p []float64) float64 {
	queue := slices.Clone(p)
	var cost, total float64
	for _, x := range p {
		total += x
	}
	for len(queue) > 1 {
		slices.SortFunc(queue, func(a, b float64) int {
			switch {
			case a > b:
				return -1
			case a < b:
				return 1
			}
			return 0
		})
		n := len(queue)
		pair := queue[n-1] + queue[n-2]
		queue[n-2] = pair
		queue = queue[:n-1]
		cost += pair
	}
	if total <= 0 {
		return 0
	}
	return cost / total
}

// SearchOrder is the order in which to check parts one by one, each found good
// or bad by its own check: falling probability over cost, which is the least
// on average (Kadane and Simon's rule).
func SearchOrder(p, cost []float64) []int {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := order[i], order[j]
		return p[a]*cost[b] > p[b]*cost[a]
	})
	return order
}

// SearchCost is the average cost of checking in the given order until the bad
// part is found; p sums to 1.
func SearchCost(p, cost []float64, order []int) float64 {
	var sum float64
	left := 1.0
	for _, i := range order {
		sum += left * cost[i]
		left -= p[i]
	}
	return sum
}
