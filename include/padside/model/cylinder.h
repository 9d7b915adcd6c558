#ifndef PADSIDE_CYLINDER_H
#define PADSIDE_CYLINDER_H

#include <padside/model/call.h>

/*
 * Pounds that still go into a cylinder of the call; NAN, with the reason
 * returned, when its refrigerant, water capacity, tare or weight is not known.
 */
enum status cylinder_room(const struct cylinder *cylinder, double *room_lb);

#endif
