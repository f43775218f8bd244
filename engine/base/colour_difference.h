#pragma once
// How different two colours look: conversions to CIE XYZ and Lab, and the CIE 1976 and 2000 differences. The
// reading of gaps and the choice of fillers' colours call them. White is D65 as the sum of the matrix's rows,
// so that greys are neutral.

#include <glm/vec3.hpp>

namespace petalproof {

// CIE XYZ of linear sRGB (IEC 61966-2-1:1999, matrix of its primaries, unrounded); white has Y = 1.
glm::dvec3 xyzFromLinear(const glm::dvec3& linear_rgb);
glm::dvec3 linearFromXyz(const glm::dvec3& xyz);
// (0.9505, 1, 1.0891): XYZ of (1, 1, 1).
glm::dvec3 whiteXyz();

// CIE 1976 L*, a*, b* (CIE 15). Negative XYZ count as 0.
glm::dvec3 labFromXyz(const glm::dvec3& xyz);

// CIE 1976 colour difference: the distance of two Lab colours.
double difference1976(const glm::dvec3& lab_a, const glm::dvec3& lab_b);

// CIEDE2000 with kL = kC = kH = 1: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 Color-Difference Formula:
// Implementation Notes, Supplementary Test Data, and Mathematical Observations", Color Research and
// Application 30(1), 2005.
double difference2000(const glm::dvec3& lab_a, const glm::dvec3& lab_b);

}  // namespace petalproof
