package picture

import (
	"image"
	"image/draw"
)

// Shrunk returns the picture in the given size, no larger than its own, each
// pixel the mean over the area it stands for. It goes row by row, so that
// a picture of a hundred megapixels needs no second large buffer.
func Shrunk(src image.Image, width, height int) *image.RGBA {
	b := src.Bounds()
	dst := image.NewRGBA(image.Rect(0, 0, width, height))
	if width == b.Dx() && height == b.Dy() {
		draw.Draw(dst, dst.Bounds(), src, b.Min, draw.Src)
		return dst
	}
	// One source pixel is width by height units of area, one of the result
	// b.Dx() by b.Dy(): all shares are whole numbers.
	sw, sh := b.Dx(), b.Dy()
	row := image.NewRGBA(image.Rect(0, 0, sw, 1))
	across := make([]uint64, 4*width)
	acc := make([]uint64, 4*width)
	area := uint64(sw) * uint64(sh)
	y := 0
	left := sh // of the result's row y, in units
	for sy := range sh {
		draw.Draw(row, row.Bounds(), src, image.Pt(b.Min.X, b.Min.Y+sy), draw.Src)
		squeeze(across, row.Pix, sw, width)
		for todo := height; todo > 0; {
			share := min(todo, left)
			for i, v := range across {
				acc[i] += v * uint64(share)
			}
			todo -= share
			if left -= share; left == 0 {
				out := dst.Pix[y*dst.Stride:]
				for i, v := range acc {
					out[i] = uint8((v + area/2) / area)
					acc[i] = 0
				}
				y++
				left = sh
			}
		}
	}
	return dst
}

// squeeze sums a row of sw pixels into width ones.
func squeeze(sums []uint64, pix []uint8, sw, width int) {
	clear(sums)
	x, left := 0, sw
	for sx := range sw {
		p := pix[4*sx : 4*sx+4]
		for todo := width; todo > 0; {
			share := min(todo, left)
			s := sums[4*x : 4*x+4]
			for c := range 4 {
				s[c] += uint64(p[c]) * uint64(share)
			}
			todo -= share
			if left -= share; left == 0 {
				x++
				left = sw
			}
		}
	}
}

// Oriented turns a stored picture upright by its EXIF orientation: 2 to 4 mirror
// or turn it by half, 5 to 8 also exchange its sides (JEITA CP-3451, tag 274).
func Oriented(src *image.RGBA, orientation int) *image.RGBA {
	if orientation <= 1 || orientation > 8 {
		return src
	}
	w, h := src.Rect.Dx(), src.Rect.Dy()
	dw, dh := w, h
	if orientation >= 5 {
		dw, dh = h, w
	}
	dst := image.NewRGBA(image.Rect(0, 0, dw, dh))
	for y := range dh {
		for x := range dw {
			var sx, sy int
			switch orientation {
			case 2:
				sx, sy = w-1-x, y
			case 3:
				sx, sy = w-1-x, h-1-y
			case 4:
				sx, sy = x, h-1-y
			case 5:
				sx, sy = y, x
			case 6:
				sx, sy = y, h-1-x
			case 7:
				sx, sy = w-1-y, h-1-x
			case 8:
				sx, sy = w-1-y, x
			}
			copy(dst.Pix[dst.PixOffset(x, y):][:4], src.Pix[src.PixOffset(sx, sy):])
		}
	}
	return dst
}
