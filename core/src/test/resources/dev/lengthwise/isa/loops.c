/* Loops that a compiler turns into vector code of whatever extensions it is told of. */

void saxpy(float *y, const float *x, float a, int n)
{
    for (int i = 0; i < n; i++) {
        y[i] = a * x[i] + y[i];
    }
}

double dot(const double *x, const double *y, int n)
{
    double sum = 0;
    for (int i = 0; i < n; i++) {
        sum += x[i] * y[i];
    }
    return sum;
}

void gather(int *out, const int *in, const int *index, int n)
{
    for (int i = 0; i < n; i++) {
        out[index[i]] = in[index[i]] ^ i;
    }
}

void clamp(short *x, short low, short high, int n)
{
    for (int i = 0; i < n; i++) {
        x[i] = x[i] < low ? low : x[i] > high ? high : x[i];
    }
}

void mix(unsigned *x, const unsigned *y, int n)
{
    for (int i = 0; i < n; i++) {
        unsigned rotated = x[i] << 7 | x[i] >> 25;
        x[i] = (y[i] & rotated) | (~y[i] & i);
    }
}

void widen(double *out, const unsigned char *in, int n)
{
    for (int i = 0; i < n; i++) {
        out[i] = in[i] > 10 ? in[i] * 0.5 : out[i];
    }
}

int find(const unsigned char *in, unsigned char wanted, int n)
{
    int found = 0;
    for (int i = 0; i < n; i++) {
        found += in[i] == wanted;
    }
    return found;
}

unsigned bits(unsigned x, unsigned y)
{
    return (x & (x - 1)) + (y & -y) + (x >> 5 & 0xff) + (~y & (y + 1)) + (x | (x + 1));
}

#ifdef HALF
void scale(_Float16 *y, const _Float16 *x, _Float16 a, int n)
{
    for (int i = 0; i < n; i++) {
        y[i] = a * x[i] + y[i] * y[i];
    }
}
#endif
