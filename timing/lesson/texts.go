package lesson

import "slices"

// Texts returns every text of this package that may be shown, so that translations
// can be checked for completeness. Strokes, senses of turning, the steps of a shift
// and the cautions are among those of finding and plate.
func Texts() []string {
	list := slices.Concat(factTexts, strokeTexts, companionTexts, firingTexts, injectionTexts, []string{strokesFour, strokesTwo}, directionTexts, teethTexts,
		tdcTexts, gearsTexts, traceTexts, answerTexts, hintTexts)
	for _, k := range Kinds() {
		list = append(list, k.Name())
	}
	return list
}
