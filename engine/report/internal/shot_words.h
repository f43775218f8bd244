#pragma once
// Tells a shot and its frame in short phrases, for the table and for the margins of pictures.

#include "engine/check/check.h"

#include <string>
#include <string_view>
#include <vector>

namespace petalproof::report {

// "couple: Couple, three-quarter", or the name alone.
std::string headingOf(const plan::Shot& shot);

// "85 mm at f/4", "26 mm equivalent at f/1.8", "200 mm, the worse end of 70-200 mm, at f/2.8".
std::string lensWords(const check::ShotCheck& shot);

// Tells what is sharp: "eyes sharp from 12 ft 3 in to 13 ft 1 in; a point of the wall spreads to
// 7/16 in"; empty for a camera without a lens. Distances are from the camera.
std::string focusWords(const check::ShotCheck& shot, Units units);

// "print 8x10, 8 in x 10 in, seen from 13 1/8 in", "a print in the hand (the plan doesn't say), ...".
std::string viewingWords(const check::ShotCheck& shot, Units units);

// Tells whose eyes aren't sharp: "the eyes of person 2, 14 ft 3 in away, are not sharp"; empty where all are.
std::string unsharpWords(const check::ShotCheck& shot, Units units);

// "full frame, upright", "17.3 x 13 mm, upright".
std::string sensorWords(const plan::Shot& shot);

// "17 ft from the board".
std::string distanceWords(const plan::Shot& shot, Units units);

// "3200 x 4000 pixels, cropped 8 : 10".
std::string pictureSizeWords(const check::ShotCheck& shot);

// "left 3 1/2 in, top 2 in"; a side that never meets the wall's plane is "right without end"; empty where
// the frame stays on the wall.
std::string offWallWords(const camera::OffWall& off, Units units);

// Tells how the frame would stay on the wall: "with the camera no farther than 12 ft from the board, or with
// a lens of 105 mm or longer"; rounded to the safe side; empty where no distance or lens does it.
std::string remedyWords(const check::ShotCheck& shot, Units units);

// Tells how many people fit in: "7 side by side or 9 staggered, 48 in from the board, before the outer edge
// shows".
std::string roomWords(const camera::RoomForPeople& room, Units units);

// A share as a per cent with one decimal; never rounded to nothing or to all: "under 0.1 %", "over 99.9 %".
std::string percentText(double share);

// "38.5 sq in", "248.1 sq cm"; never rounded to nothing.
std::string areaText(double mm2, Units units);

// "1 gap", "12 gaps".
std::string counted(std::int64_t count, std::string_view singular, std::string_view plural);

// Text from a plan made safe for a terminal or one line of a picture: control characters become spaces.
std::string onOneLine(std::string_view text);

}  // namespace petalproof::report
