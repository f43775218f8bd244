// Writes a bloom's id, in the form of visibility::PixelId.
uniform uint kind;

const int kindShift = 29;  // the upper three bits are the kind

flat in int number;

layout(location = 0) out uint shown;

void main() { shown = kind << kindShift | uint(number); }
