package main

import (
	"pinphase/timing/plate"
)

// languages are those that paper can be written in.
var languages = []string{"en"}

// languageFlag is a flag that takes one of them.
func languageFlag() *word { return &word{value: "en", of: languages} }

// sayIn puts sentences into a language; nil is English.
func sayIn(language string) plate.Say { return nil }
