package app

import (
	"pinphase.org/pinphase/timing/phrase"
)

// helpPages are the help of every page there is.
var helpPages = []helpPage{
	{
		page: phrase.Sentence{Text: "Cycle"},
		purpose: []phrase.Sentence{
			{Text: "It shows every cylinder's strokes over one cycle, and when every injection starts with a displaced sensor wheel."},
			{Text: "Each row is a cylinder. The ring is the commanded start of injection, the diamond the actual one, and the arrow between them is the error."},
			{Text: "The lower figure is the end of the crankshaft: sensor wheel, gap, sensor, keyway, dowel and throw. Drag it round, or drag the cursor across the rows; both turn the same crankshaft."},
			{Text: "The slider is a what-if: it moves the dowel elsewhere, so that you can see what a reading would mean before it is made. The job stays as it is, and “As measured” ends the what-if. The form at the left holds the job; Undo reverts what is typed there."},
		},
		formulas: []phrase.Sentence{
			{Text: "gear error κ = keyway measured − keyway drawn"},
			{Text: "wheel error δ = κ + dowel measured − dowel drawn"},
			{Text: "actual start of injection = commanded + δ, in degrees before TDC"},
			{Text: "a cylinder's own angle = (crank angle − its firing angle), wrapped into the cycle"},
		},
		means: []phrase.Sentence{
			{Text: "The keyway is measured from the No. 1 throw, the dowel from the keyway. Both errors are the short way round, between −180° and 180°."},
			{Text: "In a four-stroke a cylinder's own angle runs through power (0° to 180°), exhaust (to 360°), intake (to 540°) and compression (to 720°). In a two-stroke it is power to 180°, then compression to 360°."},
			{Text: "An angle from keyway to dowel alone does not show which of the two is displaced. Measure the keyway from the throw to know."},
		},
		sources: []phrase.Sentence{
			{Text: "Piston travel: Heywood, Internal Combustion Engine Fundamentals, 1988, section 2.2. Uncertainties: JCGM 100:2008, section 5.1."},
			{Text: "Cylinder numbering and firing orders differ between manufacturers: the service manual takes precedence."},
		},
	},
	{
		page: phrase.Sentence{Text: "Part"},
		purpose: []phrase.Sentence{
			{Text: "It is the bench: it turns what was read on a crankshaft into an angle with its uncertainty, and says what the part most probably is."},
			{Text: "Choose by the pictures how it was measured, and type what was read, once or several times. The picture shows the measured angle beside that of the drawing, with its 95 % interval."},
			{Text: "The budget shows which length the uncertainty comes from, and which reading would settle the matter. True TDC and marks on a vibration damper are calculated below."},
		},
		formulas: []phrase.Sentence{
			{Text: "chord between centres: cos(angle) = (r² + q² − c²) ÷ (2 · r · q)"},
			{Text: "arc along a rim: angle = 180° · arc ÷ (π · rim radius)"},
			{Text: "piston stop: TDC = midpoint of the two readings at the stop"},
			{Text: "u² = the sum of (slope · u of each length)²"},
		},
		means: []phrase.Sentence{
			{Text: "Here c is the distance measured, r and q are the distances of the two parts from the shaft axis, and u is a standard uncertainty. Where a formula is too curved for a linear estimate, a simulation is used."},
			{Text: "The 95 % interval is 1.96 standard uncertainties to each side, or wider, by Student's t, where there are few readings."},
			{Text: "On a photograph the ellipse of the rim gives the tilt; a centre drilling or a bolt circle gives the perspective too. Mark everything in one plane: a dowel that projects and is clicked on its top misleads."},
		},
		sources: []phrase.Sentence{
			{Text: "Uncertainty: JCGM 100:2008, equation 10; by simulation, JCGM 101:2008. Perspective: Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, 2004 (not checked against the source)."},
			{Text: "Parallel and Woodruff keys: DIN 6885-1 and DIN 6888. Dowel pins: ISO 8734 (not checked against the source)."},
		},
	},
	{
		page: phrase.Sentence{Text: "Fuel ignition"},
		purpose: []phrase.Sentence{
			{Text: "It compares the charge at the commanded start of injection with the charge at the actual one, and says whether fuel could ignite there."},
			{Text: "Move the sliders to see what cranking speed, air temperature or compression ratio would change. The job stays as it is."},
			{Text: "It is an estimate that compares two injection timings. It does not promise that the engine starts: leaking rings, wet cylinders, glow plugs and fuel are not part of it."},
		},
		formulas: []phrase.Sentence{
			{Text: "cylinder pressure · volumeⁿ stays the same while the valves are closed"},
			{Text: "gas temperature follows from pressure · volume"},
			{Text: "fuel ignites when the sum of (time step ÷ ignition delay) reaches 1"},
		},
		means: []phrase.Sentence{
			{Text: "Here n is the exponent of a compression during cranking; it is below that of air alone because heat and gas are lost. The reading of a compression gauge can replace it."},
			{Text: "The ignition delay is a formula of pressure and temperature. Five such delay formulas are shown side by side: their spread is part of the answer, which is likely, possible or unlikely."},
		},
		sources: []phrase.Sentence{
			{Text: "The sum: Livengood and Wu, Fifth Symposium (International) on Combustion, 1955. Ignition delay: Hardenberg and Hase, SAE 790493, 1979, and others as in Heywood 1988, chapter 10 (not checked against the source)."},
		},
	},
	{
		page: phrase.Sentence{Text: "Gears"},
		purpose: []phrase.Sentence{
			{Text: "It shows the gear train from crankshaft to camshaft, when its timing marks meet again, and what a gear fitted one or more teeth out does."},
			{Text: "Turn the crankshaft and watch the marks. With an idler gear, marks that do not meet after one cycle are normal: the page says how many turns it takes."},
		},
		formulas: []phrase.Sentence{
			{Text: "ratio = teeth of the camshaft gear ÷ teeth of the crankshaft gear, 2 in a four-stroke"},
			{Text: "one tooth of the camshaft gear = 360° ÷ teeth of the crankshaft gear, in crank degrees"},
			{Text: "camshaft error γ = κ + teeth out · 360° ÷ teeth of the crankshaft gear"},
			{Text: "all marks meet again after the least common multiple of all tooth counts, in teeth"},
		},
		means: []phrase.Sentence{
			{Text: "An idler gear does not change the ratio, but its teeth count for the marks. Teeth out are positive where the camshaft is ahead; κ is the gear error from the crankshaft's keyway."},
		},
		sources: []phrase.Sentence{
			{Text: "The arithmetic of meshing teeth is common knowledge; no source is needed. Where the marks are is the manufacturer's choice: the service manual takes precedence."},
		},
	},
	{
		page: phrase.Sentence{Text: "Signals"},
		purpose: []phrase.Sentence{
			{Text: "It shows what the crankshaft and camshaft sensors would show on this engine, and reads a recording of them to compare before anything is dismantled."},
			{Text: "A displaced sensor wheel gives clean signals. It shows in where the camshaft edges come among the teeth of the crank sensor wheel, and in where the crankshaft's speed shows the true top dead centre."},
		},
		formulas: []phrase.Sentence{
			{Text: "tooth k passes at −B + (k − 1) · 360° ÷ positions"},
			{Text: "tooth j of the cam sensor wheel passes at −F + 2 · its cam degrees, in a two-stroke −F + its cam degrees"},
			{Text: "crank–cam correlation error = δ − γ"},
			{Text: "TDC offset = δ, known only within the firing interval"},
		},
		means: []phrase.Sentence{
			{Text: "B and F are the degrees before TDC at which the first tooth of the crank sensor wheel and that of the cam sensor wheel pass. Camshaft edges that are late in the angle the ECU counts are positive."},
			{Text: "A tooth passes an inductive sensor at its zero crossing, a Hall sensor at its leading edge. An inductive sensor with its wires swapped shows the wrong crossing."},
			{Text: "When the keyway displaces the sensor wheel and the camshaft together, the correlation error is 0 and only the TDC offset shows the fault."},
		},
		sources: []phrase.Sentence{
			{Text: "The conventions are those of this program and are given here in full. Speed ripple: the gas torque of Heywood 1988, chapters 2 and 9, with the slider-crank of section 2.2."},
		},
	},
	{
		page: phrase.Sentence{Text: "Cause"},
		purpose: []phrase.Sentence{
			{Text: "Enter what was seen. The page ranks the faults that would explain it, singly and in pairs, and proposes the next check: the one expected to give the most information per minute."},
			{Text: "A cause stays on the list until something contradicts it. Evidence that no cause explains is marked: check that reading first."},
		},
		formulas: []phrase.Sentence{
			{Text: "probability after = probability before · how well the cause predicts what was seen, made to sum to 1"},
			{Text: "gain of a check = uncertainty now − uncertainty expected after it, in bits"},
			{Text: "next check = the largest gain ÷ minutes"},
		},
		means: []phrase.Sentence{
			{Text: "How often a fault occurs and how often a check misses it are rules of thumb without a source. You can enter your own numbers; the page keeps them."},
			{Text: "A correlation error shows the sensor wheel against the camshaft, δ − γ; a TDC offset shows the sensor wheel alone, δ."},
		},
		sources: []phrase.Sentence{
			{Text: "Bayes' rule and the gain in bits: MacKay, Information Theory, Inference, and Learning Algorithms, 2003, chapters 2 and 3."},
		},
	},
	{
		page: phrase.Sentence{Text: "Course"},
		purpose: []phrase.Sentence{
			{Text: "It explains engine timing in short steps, from one cylinder to the proof of a fault. Each step has something to do on a figure: move the cursor, click a cylinder, turn the dowel."},
			{Text: "“Check” tells whether it is right. A hint comes before the answer, and the reason after it. Any step can be begun at any time; what is done is kept."},
			{Text: "The engines of the course are its own: the open job is not changed. A step that is done offers to practise what it explained."},
		},
		means: []phrase.Sentence{
			{Text: "What is right is decided by the same arithmetic as on the other pages; their help names the formulas."},
		},
		sources: []phrase.Sentence{
			{Text: "Pistons and strokes: Heywood, Internal Combustion Engine Fundamentals, 1988, chapter 2 (not checked against the source). Engines and faults of the course are invented."},
		},
	},
	{
		page: phrase.Sentence{Text: "Practice"},
		purpose: []phrase.Sentence{
			{Text: "It asks questions about this engine or an invented one: strokes, paired cylinders, the next to fire, start of injection, teeth and gaps, TDC and timing marks."},
			{Text: "Answer by keyboard or mouse; every answer is explained on the figure with its steps. Correct answers make the questions harder, and the score is kept."},
			{Text: "Exercises can be printed with a separate sheet of answers. The same number prints the same exercises again."},
			{Text: "A class without a network gets an exercise as a code of a few letters, and each learner's result is such a code too. Its last letter detects a wrong letter and two that changed places."},
		},
		means: []phrase.Sentence{
			{Text: "An angle counts as correct within the tolerance that the question names: nobody reads a degree wheel to a tenth."},
			{Text: "To find a cylinder's stroke, subtract its firing angle from the crank angle, wrap the result into the cycle, and count strokes of 180°: power, exhaust, intake, compression."},
			{Text: "Two cylinders are paired when they fire 360° apart: their pistons move together."},
		},
		sources: []phrase.Sentence{
			{Text: "The questions are made from the rules that the other pages use; their help names the sources."},
		},
	},
	{
		page: phrase.Sentence{Text: "Lesson"},
		purpose: []phrase.Sentence{
			{Text: "Here an instructor prepares a lesson: pages for the board in a chosen order, of several engines and faults, with sentences and questions of one's own, and exercises for the class."},
			{Text: "Open a job and add it as an engine; then add pages that show it. At the right each page is shown as the class will see it."},
			{Text: "A lesson is saved as one file that holds its engines. It can be opened on another computer, and is kept here until another one is opened."},
		},
		means: []phrase.Sentence{
			{Text: "The answers on the board's own pages are calculated from the engine; what you write yourself is shown as it is."},
		},
		sources: []phrase.Sentence{
			{Text: "The pages are made from the rules that the other pages use; their help names the sources."},
		},
	},
	{
		page: phrase.Sentence{Text: "Settings"},
		purpose: []phrase.Sentence{
			{Text: "It sets language, units, theme and text size. They change what is shown and typed; a job's file always keeps degrees, millimetres, bar, kilopascals and degrees Celsius."},
		},
	},
}
