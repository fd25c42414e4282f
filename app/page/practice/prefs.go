package practice

// The choices of the practice page that are kept between starts.
const (
	prefSplitPractice = "split.practice"
	prefPracticeKinds = "practice.kinds"
	prefPracticeMade  = "practice.made_up_engines"

	prefPracticeResult  = "practice.result"       // code of the last result
	prefPracticeWhole   = "practice.result_whole" // every question of it was answered
	prefPracticeLearner = "practice.learner"      // number in the class list, as typed
	prefClassExercise   = "class.exercise"        // an instructor's: the exercise whose results follow
	prefClassResults    = "class.results"
)
