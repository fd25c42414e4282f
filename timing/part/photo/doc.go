// Package photo measures an angle on a crankshaft from points marked in a
// photograph of its end. Of the photograph it reads only size, orientation and
// lens; package pixels decodes it for the screen.
//
// The rim of the face is a circle; a camera that does not look square at it
// shows an ellipse. Three ways lead from the ellipse back to the face, by what
// was marked ([Basis]):
//
//   - the rim alone. The ellipse says how far the face is tilted, not which
//     side of it is nearer: two poses of the circle fit, and the answer lies
//     midway, with the difference in its uncertainty.
//   - the rim and the centre drilling. The vanishing line of the face is the
//     polar of its imaged centre with respect to the rim's ellipse, and meets
//     it in the images of the circular points; that gives back every angle on
//     the face, whatever the camera (Hartley and Zisserman, Multiple View
//     Geometry in Computer Vision, 2nd ed., 2004, sections 2.7 and 8.5; from
//     memory).
//   - an evenly spaced bolt circle. The homography from the circle to its
//     clicks gives back every angle; the rim is then a check.
//
// Positions are in pixels of the picture as shown upright, x to the right and y
// down, the middle of the top left pixel at (0.5, 0.5). Angles are clockwise as
// seen, in (-180, 180]. Lens distortion is not modelled: all marks must lie in
// one plane, that of the face, and well inside the picture.
//
// # Choices
//
// A photograph becomes an angle before anything else sees it
// (finding.WithPhotos): shift, figures and light-off know no pictures. Only
// photo/pixels links the decoder of phone pictures, which is large; the command
// line does not carry it and says so on a sheet. The window is built with -tags
// release,nodynamic,no_emoji: otherwise the toolkit believes a FyneApp.toml that
// lies where the program is started, that decoder looks for a system library at
// start, and the toolkit reads a font of coloured pictures that costs 18 MB;
// pictures that somebody types are drawn from the system's fonts.
//
// Pictures come from strangers. photo.Inspect refuses by the header and the
// scans what would take too long (more than 100 scans of a JPEG; a HEIC whose
// tiles or coded pictures are larger than it says), photo.DemandOf says how much
// memory decoding takes, and picture.Reader refuses what is over its limit.
// Decoders read through a reader that ends with the context; the program that
// decodes HEIC pauses often enough to be ended too. It runs in pixels/heic.go
// and not by its library's own function, which bounds no memory; the program is
// the library's, taken from its private variable. No picture over 64 MiB or 120
// megapixels is read.
//
// A library for what pictures say of themselves (EXIF, boxes of HEIF) would take
// the place of exif.go, a hundred lines, and of no more: how much work a decoder
// is asked for stands in the scans of a JPEG and in the item tables of a HEIF,
// which such a library does not hand out, so that they are read here in any case.
package photo
