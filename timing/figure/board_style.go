package figure

// The styles for a projector. A projector in a room with windows washes colours
// out, so the surface is as light or as dark as it gets, the strokes are
// stronger than on a screen, second-rank text is nearly ink, and lines and
// patterns are half as wide again.

const boardWidth = 1.5 // of lines, over those of a screen

// BoardLight returns the style for a class, dark on light.
func BoardLight() Style {
	return screen("board-light", palette{
		surface: 0xffffff, ink: 0x000000, faint: 0x3a4046, grid: 0xb9b5ad, band: 0xe9e5dc,
		power: 0xe39462, exhaust: 0xbbb8b8, intake: 0x9ed6f7, compression: 0xfdf08c,
		powerHatch: 0xc87338, exhaustHatch: 0x928e8c, intakeHatch: 0x5cb0e0, compHatch: 0xd6c048,
		commanded: 0x004a7d, actual: 0x8c3000, measured: 0xb64500, ghost: 0x3a4046, warning: 0xa01c10,
		intakeValve: 0x005c94, exhaustValve: 0x5a4a3a,
		pressure: 0x24405c, window: 0xb2e0ca, windowHatch: 0x58b28d, doubtful: 0xf3e29c, doubtfulHatch: 0xc0a02f,
		steel: 0xc9ced5, tooth: 0x009e73, gap: 0xf0e442, sensor: 0x24405c, throw: 0xe2dccf, keyway: 0x000000, nose: 0xb9c1c9,
		cursor: 0x8a1166, interval: 0xf0bd8e, compared: 0x004f85,
	}).WithLines(boardWidth)
}

// BoardDark returns the style for a class, light on dark.
func BoardDark() Style {
	return screen("board-dark", palette{
		surface: 0x000000, ink: 0xffffff, faint: 0xc3c8ce, grid: 0x4a5059, band: 0x24282f,
		power: 0x68230f, exhaust: 0x3f4a45, intake: 0x0f59a2, compression: 0x796a0c,
		powerHatch: 0x8c432a, exhaustHatch: 0x6a7870, intakeHatch: 0x3f7fc6, compHatch: 0x9c8a2e,
		commanded: 0x86cdfa, actual: 0xffb070, measured: 0xffa65e, ghost: 0xc3c8ce, warning: 0xff9383,
		intakeValve: 0x5cbcf0, exhaustValve: 0xd8c4ac,
		pressure: 0xb4cce6, window: 0x185540, windowHatch: 0x36876d, doubtful: 0x574a15, doubtfulHatch: 0x94802e,
		steel: 0x4f565f, tooth: 0x38d6a7, gap: 0xf7ec4a, sensor: 0xb4cce6, throw: 0x333944, keyway: 0xffffff, nose: 0x4d555e,
		cursor: 0xf0a6d6, interval: 0x7a4c28, compared: 0x86cdfa,
	}).WithLines(boardWidth)
}
