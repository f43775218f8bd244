// Writes heights above the board plane in mm, for the map that neighbours.frag averages.
in float height;

layout(location = 0) out float shown;

void main() { shown = height; }
