// Package early does what must be done before the toolkit is initialised. The toolkit
// reads the language from the environment then, and writes three lines of its source to
// the standard error where it knows none of that name: before any line of ours runs.
//
// It comes first because it needs nothing but syscall: of the packages whose imports are
// initialised, the first by import path is next (The Go Programming Language
// Specification, "Program initialization"), and the toolkit's has much to wait for.
package early

import "syscall"

func init() {
	if _, chosen := syscall.Getenv("LANGUAGE"); !chosen && plain() {
		syscall.Setenv("LANGUAGE", "en") // it says nothing to the C library, whose locale stays
	}
}

// plain tells whether the locale is the one without a language in some encoding: C.UTF-8,
// as in most containers. C and POSIX alone the toolkit knows.
func plain() bool {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} { // POSIX.1-2017, 8.2: the first that is set
		if locale, _ := syscall.Getenv(name); locale != "" {
			return begins(locale, "C.") || begins(locale, "POSIX.")
		}
	}
	return false
}

// begins is strings.HasPrefix, which would have to be waited for.
func begins(s, prefix string) bool { return len(s) >= len(prefix) && s[:len(prefix)] == prefix }
