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
package photo
