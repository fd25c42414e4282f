package part

import "testing"

// The table of keys goes on without gaps.
func TestStandardKeys(t *testing.T) {
	t.Parallel()
	for i, k := range Keys {
		if i > 0 && (k.Over != Keys[i-1].UpTo || k.Width <= Keys[i-1].Width) {
			t.Errorf("key %g does not follow the one before", k.Width)
		}
		// What is not in the shaft is in the hub, with a little room above.
		if room := k.ShaftSlot + k.HubSlot - k.Height; room < 0.1 || room > 0.5 {
			t.Errorf("key %g: %g mm above it", k.Width, room)
		}
	}
}
