package app

import (
	"pinphase.org/pinphase/timing/phrase"
)

// helpPages are the help of every page there is.
var helpPages = []helpPage{
	{
		page: phrase.Sentence{Text: "Cycle"},
		purpose: []phrase.Sentence{
			{Text: "It shows every cylinder's strokes over one cycle, and where a displaced sensor wheel puts every injection."},
			{Text: "Each row is a cylinder. The ring is where the controller asks for injection, the diamond where it happens, and the arrow between them is the error."},
			{Text: "The lower figure is the end of the crankshaft: wheel, gap, sensor, keyway, dowel and throw. Drag it round, or drag the cursor across the rows; both turn the same crank."},
			{Text: "The slider supposes the dowel elsewhere, so that you can see what a reading would mean before it is made: the job stays as it is, and “As measured” takes it back. The form at the left holds the job; Undo takes back what is typed there."},
		},
		formulas: []phrase.Sentence{
			{Text: "gear error κ = keyway measured − keyway drawn"},
			{Text: "wheel error δ = κ + dowel measured − dowel drawn"},
			{Text: "injection happens at = asked for + δ, in degrees before TDC"},
			{Text: "a cylinder's own angle = (crank angle − its firing angle), wrapped into the cycle"},
		},
		means: []phrase.Sentence{
			{Text: "The keyway is measured from the No. 1 throw, the dowel from the keyway. Both errors are the short way round, between −180° and 180°."},
			{Text: "In a four-stroke a cylinder's own angle runs through power (0° to 180°), exhaust (to 360°), intake (to 540°) and compression (to 720°). In a two-stroke it is power to 180°, then compression to 360°."},
			{Text: "An angle from keyway to dowel alone cannot say which of the two is wrong. Measure the keyway from the throw to know."},
		},
		sources: []phrase.Sentence{
			{Text: "Piston travel: Heywood, Internal Combustion Engine Fundamentals, 1988, section 2.2. Uncertainties: JCGM 100:2008, section 5.1."},
			{Text: "Cylinder numbering and firing orders differ between makers: the service manual decides."},
		},
	},
	{
		page: phrase.Sentence{Text: "Part"},
		purpose: []phrase.Sentence{
			{Text: "It is the bench: it turns what was read on a crankshaft into an angle, says how sure that angle is, and what the part most probably is."},
			{Text: "Choose by the pictures how it was measured, and type what was read, once or several times. The picture shows the measured angle beside the drawing's, with the band in which it lies with 95 % probability."},
			{Text: "The budget shows which length the uncertainty comes from, and which reading would settle the matter. True TDC and marks on a damper are worked out below."},
		},
		formulas: []phrase.Sentence{
			{Text: "chord between centres: cos(angle) = (r² + q² − c²) ÷ (2 · r · q)"},
			{Text: "arc along a rim: angle = 180° · arc ÷ (π · rim radius)"},
			{Text: "positive stop: TDC = midway between the two stop readings"},
			{Text: "u² = the sum of (slope · u of each length)²"},
		},
		means: []phrase.Sentence{
			{Text: "Here c is the distance measured, r and q are the two radii, and u is a standard uncertainty. Where a formula is too bent for slopes, the angle is drawn many times at random instead."},
			{Text: "The 95 % interval is 1.96 standard uncertainties to each side, or wider after Student where there are few readings."},
			{Text: "On a photograph the rim's ellipse gives the tilt; a centre drilling or a bolt circle gives the perspective too. Mark everything in one plane: a dowel that stands proud and is clicked on its top misleads."},
		},
		sources: []phrase.Sentence{
			{Text: "Uncertainty: JCGM 100:2008, equation 10; by random drawing, JCGM 101:2008. Perspective: Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, 2004 (from memory)."},
			{Text: "Keys: DIN 6885-1 and DIN 6888. Dowel pins: ISO 8734 (from memory)."},
		},
	},
	{
		page: phrase.Sentence{Text: "Light-off"},
		purpose: []phrase.Sentence{
			{Text: "It compares the charge where injection is asked for with the charge where it happens, and says whether fuel could light there."},
			{Text: "Move the sliders to see what cranking speed, air temperature or compression would change. Nothing you move there changes the job."},
			{Text: "It is an estimate that compares two timings. It promises no start: leaking rings, wet cylinders, glow plugs and fuel are not in it."},
		},
		formulas: []phrase.Sentence{
			{Text: "cylinder pressure · volumeⁿ stays the same while the valves are closed"},
			{Text: "gas temperature follows from pressure · volume"},
			{Text: "fuel lights when the sum of (time step ÷ ignition delay) reaches 1"},
		},
		means: []phrase.Sentence{
			{Text: "Here n is the exponent of a cranked compression; it is below that of air alone because heat and gas are lost. A compression gauge's reading can take its place."},
			{Text: "The ignition delay is a correlation of pressure and temperature. Five of them are shown beside one another: where they disagree, the page says doubtful."},
		},
		sources: []phrase.Sentence{
			{Text: "The sum: Livengood and Wu, Fifth Symposium (International) on Combustion, 1955. Ignition delay: Hardenberg and Hase, SAE 790493, 1979, and others as in Heywood 1988, chapter 10 (from memory)."},
		},
	},
	{
		page: phrase.Sentence{Text: "Gears"},
		purpose: []phrase.Sentence{
			{Text: "It shows the gear train from crank to cam, when its timing marks meet again, and what a gear put in some teeth out does."},
			{Text: "Turn the crank and watch the marks. Marks that do not meet after one cycle are no fault where there is an idler: the page says how many turns it takes."},
		},
		formulas: []phrase.Sentence{
			{Text: "ratio = cam teeth ÷ crank teeth, 2 in a four-stroke"},
			{Text: "one tooth of the cam gear = 360° ÷ crank teeth, in crank degrees"},
			{Text: "cam error γ = κ + teeth out · 360° ÷ crank teeth"},
			{Text: "all marks meet again after the least common multiple of all the tooth numbers, in teeth"},
		},
		means: []phrase.Sentence{
			{Text: "An idler changes nothing in the ratio, but its teeth count for the marks. Teeth out are positive where the cam is ahead; κ is the gear error of the crankshaft's keyway."},
		},
		sources: []phrase.Sentence{
			{Text: "The arithmetic of meshing teeth is common knowledge; no source is needed. Where the marks stand is the maker's choice: the service manual decides."},
		},
	},
	{
		page: phrase.Sentence{Text: "Signals"},
		purpose: []phrase.Sentence{
			{Text: "It shows what the crank and cam sensors would show on this engine, and reads a recording of them to compare before anything is pulled."},
			{Text: "A displaced wheel leaves clean signals. What gives it away is where the cam's edges fall among the crank's teeth, and where in the crank's speed the true top dead centre shows."},
		},
		formulas: []phrase.Sentence{
			{Text: "tooth k passes at −B + (k − 1) · 360° ÷ positions"},
			{Text: "cam tooth j passes at −F + 2 · its cam angle, in a two-stroke −F + its cam angle"},
			{Text: "correlation error = δ − γ"},
			{Text: "TDC offset = δ, known only within the firing interval"},
		},
		means: []phrase.Sentence{
			{Text: "B and F are the degrees before TDC at which the first tooth of crank and cam wheel pass. Cam edges seen late in the controller's angle count positive."},
			{Text: "A tooth passes an inductive sensor at its zero crossing, a Hall sensor at its leading edge. An inductive sensor with exchanged wires shows the wrong crossing."},
			{Text: "When keyway and cam are off together, the correlation error is 0 and only the TDC offset shows the fault."},
		},
		sources: []phrase.Sentence{
			{Text: "The conventions are this program's own and are stated here whole. Speed ripple: the gas torque of Heywood 1988, chapters 2 and 9, with the crank drive of section 2.2."},
		},
	},
	{
		page: phrase.Sentence{Text: "Cause"},
		purpose: []phrase.Sentence{
			{Text: "Put in what was seen, and it ranks the mistakes that would explain it, singly and in pairs, and proposes the next check: the one that is expected to tell most for its minutes."},
			{Text: "A cause stays on the list until something speaks against it. Evidence that no cause explains is said to be so: look at that reading again first."},
		},
		formulas: []phrase.Sentence{
			{Text: "probability after = probability before · how well the cause predicts what was seen, made to sum to 1"},
			{Text: "gain of a check = uncertainty now − uncertainty expected after it, in bits"},
			{Text: "next check = the largest gain ÷ minutes"},
		},
		means: []phrase.Sentence{
			{Text: "How often a fault comes and how often a check misses it are common practice without a source. You can put in your own numbers; the page keeps them."},
			{Text: "A correlation error shows wheel and cam against one another, δ − γ; a TDC offset shows the wheel alone, δ."},
		},
		sources: []phrase.Sentence{
			{Text: "Bayes' rule and the gain in bits: MacKay, Information Theory, Inference, and Learning Algorithms, 2003, chapters 2 and 3."},
		},
	},
	{
		page: phrase.Sentence{Text: "Practice"},
		purpose: []phrase.Sentence{
			{Text: "It asks questions about this engine or an invented one: strokes, companions, the next to fire, where injection lands, teeth and gaps, TDC and gear marks."},
			{Text: "Answer by keyboard or mouse; every answer is explained on the figure with its steps. The questions grow harder as you get them right, and the score is kept."},
			{Text: "Exercises can be printed with a separate sheet of answers. The same number prints the same exercises again."},
		},
		means: []phrase.Sentence{
			{Text: "An angle counts as right within the tolerance that the question names: nobody reads a degree wheel to a tenth."},
			{Text: "To find a cylinder's stroke, take its firing angle from the crank angle, wrap that into the cycle, and count strokes of 180°: power, exhaust, intake, compression."},
			{Text: "Two cylinders are companions when they fire 360° apart: their pistons move together."},
		},
		sources: []phrase.Sentence{
			{Text: "The questions are made from the rules that the other pages use; their help names the sources."},
		},
	},
	{
		page: phrase.Sentence{Text: "Settings"},
		purpose: []phrase.Sentence{
			{Text: "It sets language, units, theme and text size. They change what is shown and typed; a job's file always keeps degrees, millimetres, bar, kilopascals and degrees Celsius."},
		},
	},
}
