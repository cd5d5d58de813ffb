package complaint

// vocabulary lists concepts and the words for them. A concept's name is
// a word for it too; where a line names several, its words mean them all, in
// that order. A word may also end in s, es, d, ed, ing or in. Rows of words
// stand between commas; a/b is either word.
const vocabulary = `
not: no, not, isnt, arent, aint, wont, doesnt, dont, didnt, cant, cannot, couldnt, wouldnt, never, nothing, hardly, barely, without, neither, nor, zero, fail, refuse, lost, lose, unable, hasnt, havent, wasnt, wont even, no longer
stop: stop, quit, cease, died on, drop out, drops out, let go, lets go, release
cool: cool, cooler, cooling
not cool: no cooling
not heat: no heat
cold: cold, colder, chilly, freezing, frigid, icebox in here, shivering
tepid: tepid, lukewarm, room temp/temperature, ambient temp/temperature, same temperature
hot: hot, hotter, warm, warmer, warm up, heat up, boiling, sweltering, burning up, roasting, sweating, baking, sauna, oven in here, melting in here, stuffy, warmth, toasty
heat: heat, heating
air: air, breeze, wind, draft, airflow, air flow, register, vent, push, duct, grille, grill, floor/ceiling/wall hole, holes, hole in floor/ceiling/wall
blow: blow, blew, blown, blowing
flow: come out, comes out, coming out, came out, come through, coming through
house: house, home, room, inside, upstairs, downstairs, bedroom, indoors, here, place, apartment, family, everyone
ac: cold/cool air thing/thingy/machine/maker/conditioner, cooling thing/thingy/machine, ac, a c, aircon, air con, air conditioner, air conditioning, air condition, central air, conditioner, cooling system, ac unit
ac not run: ac/aircon/conditioner out, central air out
heater: hot/warm air thing/thingy/machine/maker, heat/heating thing/thingy/machine, furnace, heater, gas heat, gas furnace, gas heater, heating system
strips-furnace: electric heat, electric furnace, electric heater
heat not run: heat out
heater not run: furnace/heater out
burner: burner, burners, gas valve, valve, ignitor, igniter, hot surface ignitor, inducer, flame, pilot, pilot light, burner flame, sequencer
pump: heat pump, heatpump
unit: whole thing/unit/system, unit, system, hvac, equipment, thing, air handler, whole
fan: fan, blower, indoor fan, inside fan, blower motor, indoor blower
outdoor: outside unit, unit outside, outdoor unit, outside ac, ac outside, outdoor, condenser, compressor, condenser/compressor unit, condensing unit, condenser fan, outside, outside fan, outside thing, thing outside, big fan outside, contactor, box/unit/thing/fan/one/part out back, box/unit/thing/fan outside, box/unit/thing/fan in/by yard, big box out back, outside/outdoor/yard box, out back, box/unit/thing behind/beside house
stat: thermostat, stat, tstat, t stat, thermostate, wall thing/control/box/controller/dial/thingy, thing/thingy/box/control/controller/dial on wall, temperature/temp control/controller/thing/thingy/dial/box
display: display, screen, readout, number, numbers, lcd, digits
blank: blank, dark, black, empty, blacked, unlit, no numbers, not/wont/doesnt light up, not/isnt lit
dead: dead, lost power, no power, without power, died, lifeless
away: went/gone/goes away, gone, disappear, disappeared, vanished, missing
not run: broke, broken, broke down, broken down, busted, knackered, kaput, kaputt, conked, conked out, crapped out, pooped out, gave out, gave up, given up, packed up, packed in, bit dust, bites dust, shot, fried, toast, is out, was out, been out, gone out, went out, goes out, going out, is down, went down, been down, gone down, on blink, on fritz, out of order, out of commission, malfunction, inoperative, no go, no good, no response, not respond, crapped, crap out
run: run, running, work, working, start, started, startup, turn on, turns on, come on, came on, kick on, kick in, go on, fire up, power on, power up, power, operate, engage, function, respond, respon, ignite, light, turning, spin, spinning, activate, energize, energise, click on, pull in, pick up, come in, do anything, doing anything, did anything, do thing, happen, open, close, budge, move
off: turn off, shut off, shutoff, cut off, go off, goes off, off, shut down, switch off, switched off, turned off, kick off
always: all the time, constant, constantly, nonstop, non stop, continuous, continuously, continually, always, always on, stays on, stay on, stuck, stuck on, stuck open/closed/in/running, welded, weld, welded closed/shut/together, keeps running, keeps going, keeps coming, keeps blowing, 24 7, 247, forever, endless, still running, still on, keeps, on its own, by itself, all day, all night, when off, with it/everything off, set to off, with/without/on no call, without call, with no call for heat/cool/heating/cooling, not calling, not called, no call for heat/cool/heating/cooling
still: still
aux: aux, auxiliary, emergency heat, em heat, e heat, eheat, aux heat, auxiliary heat, emergency heating, backup heat, back up heat, heat strip, strip heat, heat strips, aux/backup/emergency strips, supplemental, supplementary, supplemental heat, backup, second heat
strips: strip, strips
y: y
w: w
g: g
w2: w2
stage: second stage, stage two, stage 2, 2nd stage, high stage, high heat, high cool, 2 stage, two stage, high speed, y2
first-stage: first stage, stage one, stage 1, 1st stage, low stage
stage not run: stuck in/on low/first/1st, stays in/on low/first/1st, only low/first/1st stage, only runs on/in low/first/1st
cycles: on and off, off and on, turn/kick/come/go/goes/cut/shut/click on and off, short cycle, short cycling
chatter: chatter, click, clicking, click on and off, on and off rapidly, rapid clicking, clack, clatter, machine gun, flutter, pulsing, buzz, buzzing, in and out, on off on off, click on off, click on off on off, pull in and drop out, pulling in and dropping out, pulls in and drops out, times second, times per second, times each/every second, tick, ticking
fuse: fuse, blade fuse, lv fuse, low voltage fuse, purple fuse, 3 amp, 5 amp, 3a, 5a, low voltage short
fuse-blows: pop, popped, popping, burn out, burned, burnt
faultlight: fault/lockout/alarm/indicator light/lamp/led, service/error/warning lamp/led, blinking/flashing light, service light, check light, red light, error light, warning light, call for service, service call light, check system, fault, alert light, trouble light, light is on
swap: new/smart/different thermostat/stat, thermostat/stat swap/replacement/install/installation/upgrade/change/replace, rewire, change/replace/install/swap/upgrade thermostat/stat, change/swap/put out/in thermostat/stat, change/replace/install/put/hooked/wired/put/got/bought in/up/out new/smart/different thermostat/stat, change/replace/install/put/hooked new/smart thermostat/stat, hooked/wired up thermostat/stat, hooked up new thermostat, thermostat/stat was/got/is/been change/replace/swap/install/upgrade
since: since, after, ever since, right after
wrong: opposite, reverse, reversed, backward, backwards, wrong way, wrong, mixed up, swap modes, other way around, instead
run wrong: does/do/did/doing opposite/reverse, opposite of what
mode: mode, setting, set to, set on, set for, set, when, calls for, calling for, asking for, call for, turned to, switch to, put it on, put it in, put, instead of, supposed to
mode heat: heat/heating call/demand, call for heat, call for heating, calling for heat
mode cool: cool/cooling call/demand, call for cool, call for cooling, calling for cool/cooling
mode fan: fan call
pan: drain/condensate/drip/overflow pan, pan full, pan is full, full pan, water in/from pan, water in/from drain pan, drain clogged/plugged/backed, drain line
float: float, float switch, float safety, wet switch, condensate/overflow/pan/drain switch
`

// filler carries no meaning here and does not count as a gap.
const filler = `is are was were it its to of in at that this i we he she they you have has had been be being
 very really just so too get gets getting got do does did will would can could any anything please hi hello help think seem seems like with for from on up hear hearing
 turn turned as me us mine there down says said saying now today yesterday tonight again well all some even only also as about then going goes go coming comes come make makes making
 customer caller states advised reported lady guy tenant mr mrs says reports complains complaining am im ive theyre thats whats`

// articles are dropped before a row of words is looked for.
const articles = `the a an my our your his her their`

// common words that stand close to a word of the vocabulary and are never
// taken for a slip of it.
const common = `went want wants wanted trip trips tripping tripped count wear weak wake take talk same came some sane share sharp case care cars
 cooking looking booking cook food wood hold told sold bold gold cord card code cole coil coils coal hat hit hut hurt heart hear heard head
 heavy meat seat beat neat wheat fat fax tan van man ran can pan fine fire fires find fair fairly hair pair chair stair stairs slow flow floor flower shower
 below blue block black stay stays stop step stuff shop show shut short shirt start state status stage stall staff still sill will wall call
 horse hose mouse mouth month rooms roof root road read ready moon noon soon week weekend weeks working walking talking word words
 power tower lower lose loose loss lost most must dust rust just test rest best west last fast past list fist mist miss
 time times tile mile while white write right light lights night might tight fight sight eight weight height
 first thirst burst cost coast toast roast boost light lighter later water water winter summer number under other mother father brother another
 dear deal death dread bread tread drive drink dryer drier drain train rain brain main mail mall small smell spell sell bell well tell fell
 made make maker mean means meant moan model modern money mode moved never every ever over oven open often off office
 nice noise noisy note notice nothing thing think thank thick thin this than then them they their there these those
 cell clock clocks snap snaps cellar celling ceiling feeling filing filling failing falling boiling bathroom garage kitchen attic basement crawl
 plug plugs place plate plane plan plant planning panel pane paint point pool poor pour door moor floor
 changed change charge charged chance dance since once nonce ounce horn born corn barn burn burner burners
 quiet quite sock socks stock stocks rocks
 inspect install replace repair service servant serve serious series several severe seven eleven`
