/*
 * Time of one assessment: microseconds for the figures and for the diagnosis
 * of a few calls, a circuit fully read, an electrical call, one barely begun.
 * The best of many rounds, so that another program's work does not count.
 * The target is under 300 for both together.
 */
#include <stdio.h>
#include <string.h>
#include <time.h>

#include <padside/diagnose/diagnose.h>
#include <padside/app/call_json.h>

enum { ROUNDS = 2000 };

struct sample {
	const char *name, *json; /* as `padside assess` takes it */
};

static const struct sample samples[] = {
	{ "circuit, every reading",
	  "{\"system\":{\"refrigerant\":\"R-410A\",\"metering\":\"fixed_orifice\",\"nominal_capacity\":3,"
	  "\"seer\":13,\"compressor_rla\":14.1},\"as_found\":{\"compressor_state\":\"runs\","
	  "\"outdoor_db\":95,\"return_db\":80,\"return_wb\":67,\"supply_db\":64,\"supply_wb\":60,"
	  "\"suction_pressure\":105,\"suction_line_temp\":66,\"liquid_pressure\":330,"
	  "\"liquid_line_temp\":104,\"discharge_line_temp\":205,\"drier_in_temp\":104,"
	  "\"drier_out_temp\":103,\"airflow\":1180,\"common_amps\":9.8}}" },
	{ "circuit, metering unknown",
	  "{\"system\":{\"refrigerant\":\"R-22\",\"nominal_capacity\":3},\"as_found\":{"
	  "\"compressor_state\":\"runs\",\"outdoor_db\":90,\"return_db\":78,\"return_wb\":65,"
	  "\"suction_pressure\":60,\"suction_line_temp\":58,\"liquid_pressure\":220,"
	  "\"liquid_line_temp\":100}}" },
	{ "electrical",
	  "{\"system\":{\"compressor_motor\":\"psc\",\"rated_voltage\":230,\"compressor_rla\":14.1,"
	  "\"compressor_lra\":73,\"compressor_capacitor_rated\":45},\"as_found\":{"
	  "\"line_voltage\":238,\"control_voltage\":26,\"compressor_capacitance\":27,"
	  "\"compressor_state\":\"hums\",\"starting_amps\":71,\"starting_seconds\":5,"
	  "\"common_run_resistance\":0.8,\"common_start_resistance\":3.2,"
	  "\"start_run_resistance\":4.0,\"compressor_ground_resistance\":500}}" },
	{ "barely begun", "{\"as_found\":{\"compressor_state\":\"silent\"}}" },
};

static double microseconds_now(void)
{
	struct timespec now;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return 1e6 * (double)now.tv_sec + 1e-3 * (double)now.tv_nsec;
}

static void time_call(const char *name, const struct call *call)
{
	static struct figure_set set;
	static struct diagnosis diagnosis;
	double figures = 1e9, judging = 1e9;

	for (int round = 0; round < ROUNDS; round++) {
		double began = microseconds_now();
		figures_evaluate(&call->visit, STAGE_AS_FOUND, &set);
		double middle = microseconds_now();
		diagnose(&call->visit, STAGE_AS_FOUND, &set, NULL, &diagnosis);
		double ended = microseconds_now();
		figures = middle - began < figures ? middle - began : figures;
		judging = ended - middle < judging ? ended - middle : judging;
	}
	printf("%-28s figures %6.1f us   diagnosis %6.1f us\n", name, figures, judging);
}

int main(void)
{
	struct json_reader *reader = json_reader_new();
	struct error error;
	struct call call;
	int status = reader ? 0 : 1;

	call_init(&call);
	for (size_t i = 0; reader && i < sizeof samples / sizeof *samples; i++) {
		if (call_json_read(reader, samples[i].json, strlen(samples[i].json), CALL_JSON_ASSESS,
		                       &call, &error) != STATUS_OK) {
			fprintf(stderr, "%s: %s\n", samples[i].name, error.text);
			status = 1;
			continue;
		}
		time_call(samples[i].name, &call);
	}
	call_done(&call);
	json_reader_free(reader);
	return status;
}
