#include "view/palette.h"

#include <math.h>

static const char *const pieces[NW_PALETTE_COLOURS] = {
    "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00",
    "#cc79a7", "#884422", "#99bb66", "#445566", "#9988ff", "#99ddaa",
};

static const NwPaper light = {
    .ground = {0.969f, 0.957f, 0.929f},
    .ink = {0.14f, 0.13f, 0.13f},
    .shade = {0.36f, 0.33f, 0.30f},
    .ghost = {0.62f, 0.60f, 0.56f},
    .mark = {0.93f, 0.20f, 0.24f},
};

static const NwPaper dark = {
    .ground = {0.135f, 0.141f, 0.153f},
    .ink = {0.04f, 0.04f, 0.05f},
    .shade = {0.02f, 0.02f, 0.03f},
    .ghost = {0.62f, 0.64f, 0.68f},
    .mark = {1.0f, 0.42f, 0.40f},
};

static int hex(char c) {
    return c >= '0' && c <= '9'   ? c - '0'
           : c >= 'a' && c <= 'f' ? c - 'a' + 10
           : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                  : -1;
}

bool nw_palette_parse(const char *text, NwColour *colour) {
    int digits[6];
    if (text[0] != '#')
        return false;
    for (int i = 0; i < 6; i++)
        if ((digits[i] = hex(text[i + 1])) < 0)
            return false;
    if (text[7])
        return false;
    colour->r = (float)(digits[0] * 16 + digits[1]) / 255.0f;
    colour->g = (float)(digits[2] * 16 + digits[3]) / 255.0f;
    colour->b = (float)(digits[4] * 16 + digits[5]) / 255.0f;
    return true;
}

/* Towards white for t > 0, towards black for t < 0. */
static NwColour shift(NwColour c, float t) {
    float goal = t > 0 ? 1 : 0, share = fabsf(t);
    return (NwColour){c.r + (goal - c.r) * share, c.g + (goal - c.g) * share,
                      c.b + (goal - c.b) * share};
}

NwColour nw_palette_piece(int index) {
    static const float shifts[3] = {0, 0.4f, -0.35f};
    NwColour colour = {0, 0, 0};
    nw_palette_parse(pieces[index % NW_PALETTE_COLOURS], &colour);
    return shift(colour, shifts[index / NW_PALETTE_COLOURS % 3]);
}

NwColour nw_palette_shade(NwColour colour, int copy) {
    static const float shifts[6] = {0, 0.28f, -0.2f, 0.5f, -0.36f, 0.14f};
    return shift(colour, shifts[copy % 6]);
}

NwColour nw_palette_wood(int index) {
    static const float shifts[6] = {0, 0.16f, -0.12f, 0.08f, -0.2f, 0.24f};
    static const NwColour tone = {0.80f, 0.62f, 0.42f};
    return shift(tone, shifts[index % 6]);
}

const NwPaper *nw_palette_paper(bool is_dark) {
    return is_dark ? &dark : &light;
}

/* CIE L*a*b* under D65 of a linear sRGB colour. */
static void to_lab(const double linear[3], double lab[3]) {
    static const double to_xyz[3][3] = {{0.4124564, 0.3575761, 0.1804375},
                                        {0.2126729, 0.7151522, 0.0721750},
                                        {0.0193339, 0.1191920, 0.9503041}};
    static const double white[3] = {0.95047, 1, 1.08883};
    double f[3];
    for (int i = 0; i < 3; i++) {
        double sum = 0;
        for (int k = 0; k < 3; k++)
            sum += to_xyz[i][k] * fmin(1, fmax(0, linear[k]));
        sum /= white[i];
        f[i] = sum > 216.0 / 24389 ? cbrt(sum) : (sum * 24389 / 27 + 16) / 116;
    }
    lab[0] = 116 * f[1] - 16;
    lab[1] = 500 * (f[0] - f[1]);
    lab[2] = 200 * (f[1] - f[2]);
}

static void as_seen(NwColour colour, int sight, double lab[3]) {
    static const double sights[4][3][3] = {
        {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
        {{0.152286, 1.052583, -0.204868},
         {0.114503, 0.786281, 0.099216},
         {-0.003882, -0.048116, 1.051998}},
        {{0.367322, 0.860646, -0.227968},
         {0.280085, 0.672501, 0.047413},
         {-0.011820, 0.042940, 0.968881}},
        {{1.255528, -0.076749, -0.178779},
         {-0.078411, 0.930809, 0.147602},
         {0.004733, 0.691367, 0.303900}},
    };
    double rgb[3] = {colour.r, colour.g, colour.b}, linear[3], seen[3];
    for (int k = 0; k < 3; k++)
        linear[k] = rgb[k] <= 0.04045 ? rgb[k] / 12.92 : pow((rgb[k] + 0.055) / 1.055, 2.4);
    for (int i = 0; i < 3; i++) {
        seen[i] = 0;
        for (int k = 0; k < 3; k++)
            seen[i] += sights[sight][i][k] * linear[k];
    }
    to_lab(seen, lab);
}

double nw_palette_distance(NwColour a, NwColour b) {
    double least = INFINITY;
    for (int sight = 0; sight < 4; sight++) {
        double p[3], q[3], sum = 0;
        as_seen(a, sight, p);
        as_seen(b, sight, q);
        for (int k = 0; k < 3; k++)
            sum += (p[k] - q[k]) * (p[k] - q[k]);
        least = fmin(least, sqrt(sum));
    }
    return least;
}
