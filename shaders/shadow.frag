in float height;

layout(location = 0) out vec2 shown;

void main() { shown = vec2(height, height * height); }
