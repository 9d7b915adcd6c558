/*
 * The cylinders of a call.
 */
#include <padside/model/cylinder.h>

#include <math.h>

#include <padside/calc/refrigerant.h>
#include <padside/calc/tightness.h>

enum status cylinder_room(const struct cylinder *cylinder, double *room_lb)
{
	enum refrigerant refrigerant;

	*room_lb = NAN;
	if (cylinder->refrigerant == CHOICE_NONE || cylinder->water_capacity_lb <= 0 ||
	    cylinder->tare_lb <= 0 || cylinder->weight_lb <= 0)
		return STATUS_MISSING;
	if (!refrigerant_from_name(choice_key(cylinder->refrigerant), &refrigerant))
		return STATUS_NOT_APPLICABLE;
	return tightness_cylinder_room(refrigerant, cylinder->water_capacity_lb, cylinder->tare_lb,
	                               cylinder->weight_lb, room_lb);
}
