package complaint

// vocabulary lists concepts and the words for them. A concept's name is
// a word for it too. A word may also end in s, es, d, ed, ing or in. Rows of
// words stand between commas; a/b is either word.
const vocabulary = `
not: no, not, isnt, arent, aint, wont, doesnt, dont, didnt, cant, cannot, couldnt, wouldnt, never, nothing, hardly, barely, without, neither, nor, zero, fail, refuse, lost, lose, unable, hasnt, havent, wasnt, wont even, no longer, out of
stop: stop, quit, cease, died on
cool: cool, cooler, cooling
cold: cold, colder, chilly, freezing, frigid
hot: hot, hotter, warm, warmer, warm up, heat up, lukewarm, boiling, sweltering, burning up, roasting, sweating, stuffy, 80 degrees, 85 degrees, 90 degrees
heat: heat, heating
air: air, blow, blew, breeze, airflow, air flow, register, vent, push, duct
house: house, home, room, inside, upstairs, downstairs, bedroom, indoors, here, place, apartment, family, everyone
ac: ac, a c, aircon, air con, air conditioner, air conditioning, air condition, central air, conditioner, cooling system, ac unit
heater: furnace, heater, gas heat, gas furnace, gas heater, heating system, electric heat, electric furnace
pump: heat pump, heatpump
unit: unit, system, hvac, equipment, thing, air handler, whole
fan: fan, blower, indoor fan, inside fan, blower motor, indoor blower
outdoor: outside unit, unit outside, outdoor unit, outside ac, outdoor, condenser, compressor, condensing unit, outside, outside fan, outdoor fan, box outside, outside box, contactor, unit out back
stat: thermostat, stat, tstat, t stat, thermostate
display: display, screen, readout, numbers, lcd
blank: blank, dark, dead, black, empty, blacked, unlit, no numbers, not/wont/doesnt light up, not/isnt lit
run: run, running, work, working, start, started, startup, turn on, turns on, come on, came on, kick on, kick in, go on, fire up, power on, power up, power, operate, engage, function, respond, respon, ignite, light, turning, spin, spinning, activate, energize, energise, click on
off: turn off, shut off, shutoff, cut off, go off, goes off, off, shut down, switch off, kick off
always: all the time, constantly, constant, nonstop, non stop, continuous, continuously, continually, always, always on, stays on, stay on, stuck on, keeps running, keeps going, keeps blowing, 24 7, 247, forever, endless, still running, still on, still, keeps, on its own, by itself, all day, all night, when off, set to off, switched off, turned off, is off
aux: aux, auxiliary, emergency heat, em heat, e heat, eheat, aux heat, auxiliary heat, emergency heating, backup heat, back up heat, strip, heat strip, strip heat, heat strips, supplemental, supplementary, supplemental heat, backup, second heat
stage: second stage, stage two, stage 2, 2nd stage, high stage, 2 stage, two stage, high speed, y2
chatter: chatter, click, clicking, click on and off, on and off rapidly, rapid clicking, clack, machine gun, flutter, pulsing, buzz, buzzing
fuse: fuse, blade fuse, 3 amp, 5 amp, 3a, 5a
blows: blow, blew, blown, pop, burn out, keeps blowing, burned, burnt
faultlight: fault light, service light, check light, red light, error light, warning light, call for service, service call light, check system, fault, alert light, trouble light, light is on
swap: new/smart/different thermostat/stat/tstat, thermostat/stat swap/replacement, rewire, change/replace/install/swap/upgrade thermostat/stat/tstat, change/swap/put out/in thermostat/stat, change/replace/install/put/hooked new/smart thermostat/stat, hooked up thermostat, hooked up new thermostat, thermostat/stat was/got change/replace/swap/install
wrong: opposite, reverse, reversed, backward, backwards, wrong way, wrong, mixed up, swap modes, other way around, instead
mode: mode, setting, set to, set on, set for, when, calls for, calling for, asking for, call for, turned to, switch to, put it on, put it in, instead of, supposed to
`

// filler carries no meaning here and does not count as a gap.
const filler = `is are was were it its to of in at that this i we he she they you have has had been be being
 very really just so too get gets getting got do does did will would can could any anything please hi hello help think seem seems like with for from on up
 as me us mine there down says said saying since now today yesterday again well all some even only also as about then going goes go coming comes come make makes making
 customer caller lady guy tenant mr mrs says reports complains complaining am im ive theyre thats whats`

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
 cell cellar celling ceiling feeling filing filling failing falling boiling bathroom garage kitchen attic basement crawl
 plug plugs place plate plane plan plant planning panel pane paint point pool poor pour door moor floor
 changed change charge charged chance dance since once nonce ounce horn born corn barn burn burner burners
 inspect install replace repair service servant serve serious series several severe seven eleven`
