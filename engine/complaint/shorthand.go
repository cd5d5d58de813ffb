package complaint

import "strings"

// shorthand is how call takers and technicians write what they hear: each
// line a word, and after it the ways it is cut short. Read out in full, the
// shorthand meets the same vocabulary as everybody's words.
const shorthand = `
customer: cust cx custs
states: st sts adv advs advised rpts rptd reptd rprts
thermostat: tstat tstats thermo therm tsat
outdoor: od odu outdr outdoors
outdoor unit: ou
air handler: ah ahu idu
furnace: furn furnc
blower: blwr blr
screen: scrn scr
blank: blnk
black: blk
condenser: cond condensor
compressor: comp compr
cooling: clg coolg
heating: htg heatg
heat: ht
heat pump: hp
no cooling: nc
no heat: nh
not: nt
without: wo wout
with: wi
changed: chgd chngd chg
replaced: repl replcd rplcd rpl
installed: inst instld
batteries: batts batt
running: rung
temperature: temp temps
degrees: deg degs
system: sys
electric: elec
house: hm hse
fuse: fues
`

// longhand maps each shorthand to its words.
func longhand() map[string][]string {
	out := map[string][]string{}
	for line := range strings.Lines(shorthand) {
		full, short, _ := strings.Cut(strings.TrimSpace(line), ":")
		for s := range strings.FieldsSeq(short) {
			out[s] = strings.Fields(full)
		}
	}
	return out
}

// spellOut writes a slash in full where it stands for a word.
var spellOut = strings.NewReplacer("w/o", "without", "w/ ", "with ")
