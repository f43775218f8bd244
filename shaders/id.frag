uniform uint kind;

flat in int number;

layout(location = 0) out uint shown;

void main() { shown = kind << 29 | uint(number); }
