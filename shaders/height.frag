in float height;

layout(location = 0) out float shown;

void main() { shown = height; }
