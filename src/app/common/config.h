/* Names that the build and the code share. */
#ifndef NW_APP_COMMON_CONFIG_H
#define NW_APP_COMMON_CONFIG_H

#define NW_APP_ID "net.notchwright.Notchwright"
#define NW_RESOURCES "/net/notchwright/Notchwright"

#endif
