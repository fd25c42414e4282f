package class

// bitList is zeros and ones, one a byte.
type bitList []byte

// put appends the n lowest bits of a number, the highest first.
func (b *bitList) put(v uint64, n int) {
	for i := n - 1; i >= 0; i-- {
		*b = append(*b, byte(v>>i&1))
	}
}

// flag appends one bit.
func (b *bitList) flag(on bool) {
	if on {
		b.put(1, 1)
	} else {
		b.put(0, 1)
	}
}

// putAny appends a number of any size: four bits at a time, the lowest first, each
// after a bit that tells whether there are more.
func (b *bitList) putAny(v uint64) {
	for {
		b.flag(v > 15)
		b.put(v, 4)
		if v >>= 4; v == 0 {
			return
		}
	}
}

// reader takes bits one after the other; past the end they are 0, and over tells so.
type reader struct {
	left bitList
	over bool
}

func (r *reader) take(n int) (v uint64) {
	for range n {
		var bit byte
		if len(r.left) == 0 {
			r.over = true
		} else {
			bit, r.left = r.left[0], r.left[1:]
		}
		v = v<<1 | uint64(bit)
	}
	return v
}

func (r *reader) flag() bool { return r.take(1) == 1 }

// takeAny takes what [bitList.putAny] appends.
func (r *reader) takeAny() (v uint64) {
	for shift := 0; ; shift += 4 {
		more := r.flag()
		v |= r.take(4) << shift
		if !more || shift == 60 {
			return v
		}
	}
}

// done tells whether all that was written has been taken: fewer zeros than a letter has
// bits are left.
func (r *reader) done() bool {
	for _, bit := range r.left {
		if bit != 0 {
			return false
		}
	}
	return !r.over && len(r.left) < bitsEach
}
