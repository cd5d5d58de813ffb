package session

import (
	"testing"

	"stepdown/engine/house"
)

func TestHeardUrgency(t *testing.T) {
	for step, cases := range map[string]map[string]string{
		"people": {
			"a baby in the house":                      "frail",
			"my mother is 85":                          "frail",
			"my mother, she's 85":                      "frail",
			"her mother is 91 and it won't heat":       "frail",
			"an 85 year old woman":                     "frail",
			"it is 85 in there, she says":              "",
			"she lives in unit 75":                     "",
			"an old man alone":                         "frail",
			"no, but she is 91":                        "frail",
			"a 2 year old":                             "frail",
			"twins, 6 months old":                      "frail",
			"just me and the baby":                     "frail",
			"old lady says it is not cooling":          "frail",
			"my husband is sick and she is 80":         "ill",
			"nobody":                                   "no",
			"no one":                                   "no",
			"just me":                                  "no",
			"No, just the two of us.":                  "no",
			"we're all healthy":                        "no",
			"nobody there is old or ill":               "no",
			"no kids":                                  "no",
			"no small children":                        "no",
			"we don't have any kids":                   "no",
			"no cool air at all":                       "",
			"it does not cool":                         "",
			"she says it is 85 in there":               "",
			"the furnace is 20 years old":              "",
			"my mother says the unit is 70 months old": "",
			"not fine":                                 "",
			"she lives alone":                          "",
			"yes":                                      "",
		},
		"temperature": {
			"72":                          "comfortable",
			"it's about 58 degrees":       "uncomfortable",
			"98F":                         "extreme",
			"41":                          "extreme",
			"20 C":                        "comfortable",
			"36 °C":                       "extreme",
			"20":                          "",
			"fine so far":                 "comfortable",
			"a little warm":               "uncomfortable",
			"it blows warm air":           "",
			"it went off 2 hours ago":     "",
			"not good":                    "",
			"it was fine, now it is cold": "uncomfortable",
		},
		"emergency": {"nobody": "", "72": ""},
	} {
		for line, want := range cases {
			if got, ok := HeardUrgency(step, line); got != want || ok != (want != "") {
				t.Errorf("%s, %q: %q, %v; want %q", step, line, got, ok, want)
			}
		}
	}
}

// What a dispatcher types at a question of urgency answers it, and a complaint
// in the same words is kept; danger comes first.
func TestUrgencyInOwnWords(t *testing.T) {
	at := func() *call {
		c := begin(t, Opening{Audience: house.Dispatcher})
		return c.send(Event{Kind: Answer, Reply: "no"})
	}
	c := at()
	c.asks("people")
	c.send(Event{Kind: Text, Reply: "a baby in the house"}).asks("temperature")
	c.send(Event{Kind: Text, Reply: "58 degrees"}).asks("words")
	if got := c.s.urgency(); got != "today: someone frail is there" {
		t.Errorf("urgency: %s", got)
	}
	c = at()
	c.send(Event{Kind: Text, Reply: "old lady, it does not cool"}).asks("temperature")
	c.send(Event{Kind: Text, Reply: "it is 72 in there"}).asks("equipment")
	if c.s.gates.people != "frail" || c.s.Words() != "old lady, it does not cool" {
		t.Errorf("%+v", c.s.gates)
	}
	c = begin(t, Opening{Audience: house.Dispatcher})
	c.send(Event{Kind: Text, Reply: "it does not cool, and there is a baby"}).asks("emergency")
	c.send(Event{Kind: Answer, Reply: "no"}).asks("temperature")
	c.send(Event{Kind: Answer, Reply: "comfortable"}).asks("equipment")
	at().send(Event{Kind: Text, Reply: "a baby in the house, 58 degrees"}).asks("words") // both questions at once
	at().send(Event{Kind: Text, Reply: "a baby, and a gas smell"}).finds(house.EmergencyFinding)
}
