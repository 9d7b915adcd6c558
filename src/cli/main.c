/*
 * The program.
 */
#include <stdio.h>

int main(void)
{
	puts("padside " PADSIDE_VERSION);
	return 0;
}
