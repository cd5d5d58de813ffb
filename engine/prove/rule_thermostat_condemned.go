package prove

var thermostatCondemned = &Rule{
	Code:  "thermostat-condemned",
	Proof: Physics,
	Title: "no good thermostat is condemned",
	Why: `A thermostat is often replaced for a fault that is elsewhere. So on no house,
with no single wrong reading and no slip that lasts (call not made, compressor
delay running, wrong mode, meter on DC, dead lead), may a call end at replacing
one that is good. An open contact needs a jumper that makes the load run, seen
by two different probes, and another output of the same call present after five
counted minutes; a stuck one needs the load to stop twice with the face pulled,
and no other output on.`,
	Bad: `
branches:
  - {when: yc < dead_max, then: finding stat-y-open}   # or nobody called`,
	Good: `
branches:
  - {when: yc < dead_max and gc >= control_min, then: step jumper-cool}`,
}
