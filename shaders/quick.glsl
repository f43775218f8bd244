#define QUICK 1  // for pictures in motion
