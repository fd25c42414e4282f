//go:build !unix

package regular

import "errors"

// withoutWaiting is for systems whose pipes lie among the files.
const withoutWaiting = 0

var inUse = errors.New("never told")
