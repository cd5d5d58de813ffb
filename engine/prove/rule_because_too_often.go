package prove

var becauseTooOften = &Rule{
	Code:  "because-too-often",
	Proof: Physics,
	Title: "at most one call in twenty ends wider for a because",
	Why: `A because is for the rare house where one more reading is not worth its cover.
Where more than 5 % of calls lean on one, the tree stops too early.`,
	Bad: `
unable: finding undecided
because: the rest is behind a cover     # on every call`,
	Good: `
unable: step board-call`,
}
