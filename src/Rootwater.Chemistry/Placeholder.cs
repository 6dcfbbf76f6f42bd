namespace Rootwater.Chemistry;
