/* The cylinders of a call: how much still goes into one. */
#include <check.h>
#include <math.h>

#include <padside/calc/tightness.h>
#include <padside/model/cylinder.h>

Suite *cylinder_suite(void);

/* What the rule of calc/tightness.h says of it, to four fifths of its water (DOT 49 CFR 173.304a). */
START_TEST(a_cylinder_that_is_known_has_its_room)
{
	const struct cylinder cylinder = {
		.refrigerant = CHOICE_REFRIGERANT_R410A, .water_capacity_lb = 47.7, .tare_lb = 27, .weight_lb = 60,
	};
	double room, by_rule;

	ck_assert_int_eq(tightness_cylinder_room(REFRIGERANT_R410A, 47.7, 27, 60, &by_rule), STATUS_OK);
	ck_assert_int_eq(cylinder_room(&cylinder, &room), STATUS_OK);
	ck_assert_double_eq_tol(room, by_rule, 1e-12);
}
END_TEST

/* Any weight above zero is one; without one of the four nothing can be said. */
START_TEST(a_cylinder_that_is_not_known_has_no_room_to_tell)
{
	struct cylinder cylinder = {
		.refrigerant = CHOICE_REFRIGERANT_R410A, .water_capacity_lb = 0.9, .tare_lb = 0.2, .weight_lb = 0.8,
	};
	double *const needed[] = { &cylinder.water_capacity_lb, &cylinder.tare_lb, &cylinder.weight_lb };
	double room;

	ck_assert_int_eq(cylinder_room(&cylinder, &room), STATUS_OK);
	ck_assert(isfinite(room));
	for (int i = 0; i < 3; i++) {
		double was = *needed[i];
		*needed[i] = 0;
		ck_assert_int_eq(cylinder_room(&cylinder, &room), STATUS_MISSING);
		ck_assert(isnan(room));
		*needed[i] = was;
	}
	cylinder.refrigerant = CHOICE_NONE;
	ck_assert_int_eq(cylinder_room(&cylinder, &room), STATUS_MISSING);
	ck_assert(isnan(room));
}
END_TEST

Suite *cylinder_suite(void)
{
	Suite *suite = suite_create("cylinder");
	TCase *tests = tcase_create("cylinder");

	tcase_add_test(tests, a_cylinder_that_is_known_has_its_room);
	tcase_add_test(tests, a_cylinder_that_is_not_known_has_no_room_to_tell);
	suite_add_tcase(suite, tests);
	return suite;
}
