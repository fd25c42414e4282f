//go:build unix

package regular

import "syscall"

// withoutWaiting makes the opening of a pipe come back at once; of an ordinary file
// it changes nothing.
const withoutWaiting = syscall.O_NONBLOCK

// inUse is how an opening that does not wait says that it would have to.
var inUse error = syscall.EWOULDBLOCK
