package app

import "pinphase.org/pinphase/timing/lesson"

// The choices of the practice page that are kept between starts.
const (
	prefSplitPractice = "split.practice"
	prefPracticeKinds = "practice.kinds"
	prefPracticeMade  = "practice.made_up_engines"
)

// PracticeKinds returns the kinds of questions to ask: all of them until some were
// chosen.
func (p prefs) PracticeKinds() []lesson.Kind {
	var list []lesson.Kind
	for _, name := range p.p.StringList(prefPracticeKinds) {
		if k, ok := lesson.ParseKind(name); ok {
			list = append(list, k)
		}
	}
	if len(list) == 0 {
		return lesson.Kinds()
	}
	return list
}

// SetPracticeKinds keeps them.
func (p prefs) SetPracticeKinds(kinds []lesson.Kind) {
	var names []string
	for _, k := range kinds {
		names = append(names, string(k))
	}
	p.p.SetStringList(prefPracticeKinds, names)
}
