// Package complaint understands what people say is wrong, in their own words,
// and finds the trees it may mean.
//
//	m := complaint.New(map[house.Complaint][]string{house.NoCooling: {"not cooling"}})
//	found := m.Match("my A/C isnt coolign")
//	fmt.Println(found.Trees, found.Sure) // [no-cooling] true
//
// Shorthand is written out, and words become concepts (cool, cooling and cooler
// are one; so are won't, no and quit; so is 84 in a house set to 72, and hot).
// A word mistyped by a letter or two is mended, and each tree's phrases are
// looked for in that order with small gaps. A phrase counts only
// where it is denied or affirmed as it was written: "not cooling" is not found
// in "cooling, no heat".
//
// Emergencies are looked for first, on wide patterns of their own: a false
// alarm is better than a miss.
//
// May import: tree.
package complaint
