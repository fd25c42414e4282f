package practice

// The choices of the practice page that are kept between starts.
const (
	prefSplitPractice = "split.practice"
	prefPracticeKinds = "practice.kinds"
	prefPracticeMade  = "practice.made_up_engines"
)
