// Package plan is a lesson as a file: pages for the board in the instructor's order, of
// several engines and with sentences and questions of the instructor's own, and the
// codes of exercises. It is made once and kept for the next class.
//
// The file is TOML in UTF-8, named *.lesson:
//
//	format = 1
//
//	[lesson]
//	title = "Firing order and the sensor wheel"
//	notes = "45 minutes"                  # the instructor's own, not shown
//
//	[[engine]]                            # one or more
//	name = "Six in line"
//	job = """..."""                       # a whole job file; pictures do not come along
//
//	[[page]]
//	engine = "Six in line"
//	show = "firing_order"                 # or pairs, fault, turning: all the board's pages of that
//
//	[[page]]
//	engine = "Six in line"
//	show = "cycle"                        # or wheel, wheels (as drawn beside as drilled): one page
//	at_deg = 120                          # where the crankshaft is
//	question = "Which valves are open?"
//	answer = "Both of cylinder 2."        # may be left out
//
//	[[exercise]]
//	title = "After the lesson"
//	code = "2ZZ4-R0M1"                    # of package class
//
// # Choices
//
// A lesson holds whole jobs and not the names of their files: one file is all that an
// instructor carries to another computer, and a job that is edited afterwards does not
// change a lesson that was prepared.
package plan
